import { textWidth } from "../step/show/text-width.js";

export { textWidth };

/** The text in lines no wider than `width_px`; a longer single word stays whole. */
export function wrapped(
  text: string,
  width_px: number,
  font: { readonly size_px: number; readonly weight?: "normal" | "bold" },
): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines[lines.length - 1];
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && textWidth(longer, font.size_px, font.weight) <= width_px) {
      lines[lines.length - 1] = longer;
    } else {
      lines.push(word);
    }
  }
  return lines;
}

/** The text cut to a number of letters, with an ellipsis. */
export function shortened(text: string, letters: number): string {
  return text.length <= letters ? text : `${text.slice(0, letters - 1).trimEnd()}…`;
}
