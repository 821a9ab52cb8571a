import { NotDecodable, piecesOf } from "../../read/package/folder.js";

export interface Encoding {
  readonly encoding: string;
  readonly why: string;
}

const LOOKED_AT_BYTES = 65_536;

/** The encoding of a file of text; null where the bytes are no text. */
export function recogniseEncoding(bytes: Uint8Array): Encoding | null {
  const start = bytes.subarray(0, LOOKED_AT_BYTES);
  const marked = byMark(start);
  if (marked !== null) return marked;
  const wide = withoutMark(start);
  if (wide !== null) return { encoding: wide, why: "every second byte is 0" };
  if (isBinary(start)) return null;
  if (decodes(bytes, "utf-8")) return { encoding: "utf-8", why: "all bytes are UTF-8" };
  return { encoding: "windows-1252", why: "no UTF-8; Latin letters in one byte each" };
}

function byMark([one, two, three]: Uint8Array): Encoding | null {
  const why = "by its byte-order mark";
  if (one === 0xef && two === 0xbb && three === 0xbf) return { encoding: "utf-8", why };
  if (one === 0xff && two === 0xfe) return { encoding: "utf-16le", why };
  if (one === 0xfe && two === 0xff) return { encoding: "utf-16be", why };
  return null;
}

function withoutMark(bytes: Uint8Array): string | null {
  const zeros = [0, 0];
  for (const [i, byte] of bytes.entries()) if (byte === 0) zeros[i % 2]! += 1;
  const [even = 0, odd = 0] = zeros;
  const most = 0.4 * bytes.length;
  if (odd > most && even === 0) return "utf-16le";
  return even > most && odd === 0 ? "utf-16be" : null;
}

function isBinary(bytes: Uint8Array): boolean {
  const isControl = (byte: number) => byte < 32 && ![9, 10, 12, 13, 26].includes(byte);
  const controls = bytes.filter(isControl).length;
  return bytes.includes(0) || controls > 0.01 * bytes.length;
}

function decodes(bytes: Uint8Array, encoding: string): boolean {
  try {
    for (const _ of piecesOf(bytes, encoding));
    return true;
  } catch (error) {
    if (error instanceof NotDecodable) return false;
    throw error;
  }
}
