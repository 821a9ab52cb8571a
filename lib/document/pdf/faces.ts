import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

/**
 * The family that the paper is set in: Arimo, whose letters are as wide as those that figures and
 * tables are measured with. It goes by a name that no machine's own fonts have, so that the same
 * document gives the same bytes wherever it is made.
 */
export const family = "Crest";

const ownName = "Arimo";

const files = [
  "400Regular/Arimo_400Regular.ttf",
  "400Regular_Italic/Arimo_400Regular_Italic.ttf",
  "700Bold/Arimo_700Bold.ttf",
  "700Bold_Italic/Arimo_700Bold_Italic.ttf",
];

/** Regular, italic, bold and both, as TrueType. */
export function faces(): readonly Buffer[] {
  const { resolve } = createRequire(import.meta.url);
  return files.map((file) => renamed(readFileSync(resolve(`@expo-google-fonts/arimo/${file}`))));
}

/** The names of a face stand in its table "name", as 16-bit letters or as bytes; lengths stay. */
function renamed(font: Buffer): Buffer {
  const copy = Buffer.from(font);
  const { offset, length } = tableAt(copy, "name");
  const names = copy.subarray(offset, offset + length);
  for (const wide of [true, false]) {
    const [was, is] = [lettersOf(ownName, wide), lettersOf(family, wide)];
    for (let at = names.indexOf(was); at >= 0; at = names.indexOf(was, at + 1)) is.copy(names, at);
  }
  return copy;
}

function lettersOf(text: string, wide: boolean): Buffer {
  return wide ? Buffer.from(text, "utf16le").swap16() : Buffer.from(text, "latin1");
}

/** Where a table of a TrueType font stands. Throws where the font has none of that name. */
export function tableAt(font: Buffer, name: string): { offset: number; length: number } {
  const count = font.readUInt16BE(4);
  for (let i = 0; i < count; i++) {
    const at = 12 + 16 * i;
    if (font.toString("latin1", at, at + 4) === name) {
      return { offset: font.readUInt32BE(at + 8), length: font.readUInt32BE(at + 12) };
    }
  }
  throw new RangeError(`font: must have a table ${name}`);
}
