import { createHash } from "node:crypto";
import { readdir, readFile, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { FaultLog, SurveyFault } from "../../check/faults.js";

/** A file of the survey folder as it was read. */
export interface SurveyFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/** A survey's files are read whole, one after the other. */
const MEGABYTES = 250;
const LARGEST_BYTES = MEGABYTES * 1e6;

/** Its size; throws where it is none: a pipe or a device may never end. */
async function regularFile(path: string) {
  const found = await stat(path);
  if (found.isFile()) return found;
  throw Object.assign(new Error("not a file"), { code: found.isDirectory() ? "EISDIR" : "EINVAL" });
}

/** Reads a file; null with a fault where it is missing or is none. */
export async function readSurveyFile(
  folder: string,
  path: string,
  log: FaultLog,
): Promise<SurveyFile | null> {
  try {
    const { size } = await regularFile(join(folder, path));
    if (size > LARGEST_BYTES) {
      const rule = `a file of ${MEGABYTES.toLocaleString("en")} MB at the most`;
      const value = `${Math.round(size / 1e6).toLocaleString("en")} MB`;
      const hint = "divide it, a walk a file";
      log.add({ code: "file-size", file: path, rule, value, hint });
      return null;
    }
    const bytes = await readFile(join(folder, path));
    return { path, bytes, sha256: createHash("sha256").update(bytes).digest("hex") };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "unreadable";
    const missing = code === "ENOENT" || code === "ENOTDIR";
    const value = missing ? "nothing" : `a read error, ${code}`;
    const rule = "a file in the survey folder";
    const hint = missing ? await nearName(folder, path) : null;
    log.add({ code: missing ? "missing-file" : "unreadable-file", file: path, rule, value, hint });
    return null;
  }
}

/** A file whose name differs in case only, or a path written with backslashes. */
async function nearName(folder: string, path: string): Promise<string | null> {
  if (path.includes("\\")) return "write folders with /";
  const names = await readdir(join(folder, dirname(path))).catch(() => []);
  const same = (name: string) => name.toLowerCase() === basename(path).toLowerCase();
  const near = names.find(same);
  return near === undefined ? null : `the folder has "${near}"; case matters`;
}

/** The file's text without a byte-order mark; null with a fault where it is empty or no text. */
export function textOf(file: SurveyFile, encoding: string, log: FaultLog): string | null {
  let text: string;
  try {
    text = [...piecesOf(file.bytes, encoding)].map((piece) => piece.text).join("");
  } catch (error) {
    if (!(error instanceof NotDecodable)) throw error;
    log.add({ ...error.fault, file: file.path });
    return null;
  }
  if (text.trim() !== "") return text;
  log.add({ code: "empty-file", file: file.path, rule: "filled", value: "an empty file" });
  return null;
}

/** No data package and no GeoJSON comes near; what walks the value may recurse so deep. */
const DEEPEST = 100;

/** By the brackets outside texts. */
function isDeeperThan(text: string, most: number): boolean {
  let depth = 0;
  for (const [bracket] of text.replace(/"(?:[^"\\]|\\.)*"/g, "").matchAll(/[[\]{}]/g)) {
    depth += bracket === "[" || bracket === "{" ? 1 : -1;
    if (depth > most) return true;
  }
  return false;
}

/** The value of a JSON text; undefined with a fault where it is none. */
export function jsonOf(text: string, file: string, log: FaultLog): unknown {
  if (isDeeperThan(text, DEEPEST)) {
    const rule = `JSON nested ${DEEPEST} deep at the most`;
    log.add({ code: "json-depth", file, rule, value: "deeper nesting" });
    return undefined;
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    const value = error instanceof Error ? error.message : String(error);
    log.add({ code: "invalid-json", file, rule: "valid JSON", value });
    return undefined;
  }
}

/** Thrown where bytes are not text of the encoding, with the fault to log. */
export class NotDecodable extends Error {
  readonly fault: Omit<SurveyFault, "file" | "row" | "field" | "more">;

  constructor(bytes: Uint8Array, encoding: string) {
    super(`no text in the encoding ${encoding}`);
    const rule = `text in the encoding ${encoding}`;
    this.fault = { code: "encoding", rule, value: "other bytes", hint: likelyEncoding(bytes) };
  }
}

function likelyEncoding(bytes: Uint8Array): string | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'looks like "encoding": "utf-16le"';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'looks like "encoding": "utf-16be"';
  if (bytes.includes(0)) return null;
  return isUtf8(bytes) ? 'looks like "encoding": "utf-8"' : 'perhaps "encoding": "windows-1252"';
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

const PIECE_BYTES = 1 << 20;

/**
 * The text of the bytes in pieces, without a byte-order mark, each with the share of the bytes read
 * so far. "start": the bytes may end within a letter.
 */
export function* piecesOf(
  bytes: Uint8Array,
  encoding: string,
  part: "whole" | "start" = "whole",
): Generator<{ readonly text: string; readonly share: number }> {
  const decoder = decoderOf(bytes, encoding);
  for (let start = 0; start < bytes.length; start += PIECE_BYTES) {
    const end = Math.min(bytes.length, start + PIECE_BYTES);
    const stream = end < bytes.length || part === "start";
    const text = decoded(decoder, bytes.subarray(start, end), stream);
    // Tables and JSON hold no letter of nought; a file of another kind does.
    if (text === null || text.includes("\0")) throw new NotDecodable(bytes, encoding);
    yield { text, share: end / bytes.length };
  }
}

function decoded(
  decoder: InstanceType<typeof TextDecoder>,
  bytes: Uint8Array,
  stream: boolean,
): string | null {
  try {
    return decoder.decode(bytes, { stream });
  } catch {
    return null;
  }
}

function decoderOf(bytes: Uint8Array, encoding: string) {
  try {
    return new TextDecoder(encoding, { fatal: true });
  } catch {
    throw new NotDecodable(bytes, encoding);
  }
}
