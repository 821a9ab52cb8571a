import { createHmac, timingSafeEqual } from "node:crypto";
import { type Content, type Header, type Message, newHeader, type Outgoing } from "./messages.js";

const delimiter = "<IDS|MSG>";
/** Signatures remembered, so that a message which is sent again is known. */
const rememberedSignatures = 65_536;

/** A message with the identities of the socket that it came from. */
export interface Received {
  readonly identities: readonly Buffer[];
  readonly message: Message;
}

/** Makes and reads the frames of signed Jupyter messages. */
export class FrameCodec {
  readonly #key: string;
  readonly #seen = new Set<string>();

  /** `key` of HMAC-SHA256; empty for messages without signatures. */
  constructor(key: string) {
    this.#key = key;
  }

  /** Frames of a message: identities, delimiter, signature, four of JSON, buffers. */
  encode(identities: readonly (Buffer | string)[], message: Outgoing): (Buffer | string)[] {
    const { type, parent, metadata = {}, content, buffers = [], header } = message;
    const parts = [
      JSON.stringify(header ?? newHeader(type)),
      JSON.stringify(parent ?? {}),
      JSON.stringify(metadata),
      content,
    ].map((part) => Buffer.from(part));
    const binary = buffers.map((one) => Buffer.from(one.buffer, one.byteOffset, one.byteLength));
    return [...identities, delimiter, this.#sign(parts), ...parts, ...binary];
  }

  /** Null where the frames are malformed, wrongly signed or seen before. */
  decode(frames: readonly Buffer[]): Received | null {
    const at = frames.findIndex((frame) => frame.toString("latin1") === delimiter);
    const [signature, ...rest] = frames.slice(at + 1);
    const parts = rest.slice(0, 4);
    if (at < 0 || signature === undefined || parts.length < 4) return null;
    if (!this.#accepts(signature.toString("latin1"), parts)) return null;
    const message = parsed(parts, rest.slice(4));
    return message && { identities: frames.slice(0, at), message };
  }

  #sign(parts: readonly Buffer[]): string {
    if (this.#key === "") return "";
    const hmac = createHmac("sha256", this.#key);
    for (const part of parts) hmac.update(part);
    return hmac.digest("hex");
  }

  #accepts(signature: string, parts: readonly Buffer[]): boolean {
    if (this.#key === "") return true;
    const right = Buffer.from(this.#sign(parts), "latin1");
    const given = Buffer.from(signature, "latin1");
    if (given.length !== right.length || !timingSafeEqual(given, right)) return false;
    if (this.#seen.has(signature)) return false;
    this.#seen.add(signature);
    if (this.#seen.size > rememberedSignatures) {
      for (const oldest of this.#seen) {
        this.#seen.delete(oldest);
        break;
      }
    }
    return true;
  }
}

function parsed(parts: readonly Buffer[], buffers: readonly Buffer[]): Message | null {
  try {
    const [header, parent, metadata, content] = parts.map((part) => JSON.parse(part.toString()));
    if (![header, parent, metadata, content].every(isObject) || !isHeader(header)) return null;
    return { header, parent_header: parent, metadata, content, buffers };
  } catch {
    return null;
  }
}

function isObject(value: unknown): value is Content {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isHeader(value: Content): value is Content & Header {
  return typeof value.msg_id === "string" && typeof value.msg_type === "string";
}
