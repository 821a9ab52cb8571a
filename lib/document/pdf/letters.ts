import { tableAt } from "./faces.js";

/** Whether a font draws a letter, by its code point. */
export type Draws = (codePoint: number) => boolean;

/** The letters that a TrueType font draws, by its map of the basic plane (OpenType `cmap`, format 4). */
export function lettersIn(font: Buffer): Draws {
  const map = basicMap(font);
  const count = map.readUInt16BE(6) / 2;
  const [ends, starts] = [14, 16 + 2 * count];
  const segments = Array.from({ length: count }, (_, i) => ({
    from: map.readUInt16BE(starts + 2 * i),
    to: map.readUInt16BE(ends + 2 * i),
  })).filter(({ from }) => from !== 0xffff);
  return (codePoint) => segments.some(({ from, to }) => codePoint >= from && codePoint <= to);
}

function basicMap(font: Buffer): Buffer {
  const { offset } = tableAt(font, "cmap");
  const count = font.readUInt16BE(offset + 2);
  for (let i = 0; i < count; i++) {
    const at = offset + font.readUInt32BE(offset + 8 + 8 * i);
    if (font.readUInt16BE(at) === 4) return font.subarray(at, at + font.readUInt16BE(at + 2));
  }
  throw new RangeError("font: must have a character map of format 4");
}
