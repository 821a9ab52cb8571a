/** Advance widths of printable ASCII in 1/1000 em: Adobe Helvetica metrics, which Arial shares. */
const widths = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
  556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
  611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
  667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
  222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/** The width of a line of text, px; letters outside ASCII count as 0.556 em, bold adds 7 %. */
export function textWidth(
  text: string,
  size_px: number,
  weight: "normal" | "bold" = "normal",
): number {
  let sum = 0;
  for (const letter of text) sum += widths[(letter.codePointAt(0) ?? 0) - 32] ?? 556;
  return (sum / 1000) * size_px * (weight === "bold" ? 1.07 : 1);
}
