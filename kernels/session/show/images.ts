import type { MimeBundle } from "./outputs.js";

/** How files begin. */
const heads: readonly (readonly [mime: string, at: number, head: readonly number[]])[] = [
  ["image/png", 0, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ["image/jpeg", 0, [0xff, 0xd8, 0xff]],
  ["image/gif", 0, [0x47, 0x49, 0x46, 0x38]],
  ["image/webp", 8, [0x57, 0x45, 0x42, 0x50]],
];

/** The bytes of a PNG, JPEG, GIF or WebP file with a text for those who do not see it; null for others. */
export function imageBundle(bytes: Uint8Array, alt: string): MimeBundle | null {
  const found = heads.find(([, at, head]) => head.every((byte, i) => bytes[at + i] === byte));
  if (found === undefined) return null;
  return { [found[0]]: Buffer.from(bytes).toString("base64"), "text/plain": alt };
}

/** True for a plain object of MIME types with their contents. */
export function isBundle(value: unknown): value is MimeBundle {
  if (typeof value !== "object" || value === null) return false;
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) return false;
  const types = Object.keys(value);
  return types.length > 0 && types.every((type) => mimeType.test(type));
}

const mimeType = /^(application|audio|image|text|video)\/[\w.+-]+(;.*)?$/;
