import Papa from "papaparse";

export type Separator = "tab" | "semicolon" | "bar" | "comma" | "blanks";

const SIGNS = { tab: "\t", semicolon: ";", bar: "|", comma: "," } as const;

/** In the order of trust where several part a file equally well: cells hold commas and blanks. */
export const SEPARATORS: readonly Separator[] = ["tab", "semicolon", "bar", "comma", "blanks"];

/** The cells of a line, without the blanks around them. */
export function splitCells(text: string, separator: Separator): readonly string[] {
  if (separator === "blanks")
    return [...text.matchAll(/"([^"]*)"|\S+/g)].map(([all, q]) => q ?? all);
  const sign = SIGNS[separator];
  return withoutEnd(text, sign).map((cell) => cell.trim());
}

function withoutEnd(text: string, sign: string): readonly string[] {
  if (!text.includes('"')) return text.split(sign);
  return (Papa.parse(text, { delimiter: sign }).data[0] as string[] | undefined) ?? [];
}

/** Cells up to the last filled one: a line may end with separators. */
export function withoutBlankEnd(cells: readonly string[]): readonly string[] {
  let end = cells.length;
  while (end > 0 && cells[end - 1] === "") end -= 1;
  return cells.slice(0, end);
}

/** The cells of a header between blanks: a unit in brackets belongs to the name before it. */
export function headerCells(text: string, separator: Separator, count: number): readonly string[] {
  if (separator !== "blanks") return splitCells(text, separator);
  const line = text.trim();
  const tight = line.match(/"[^"]*"|[^\s[(]+(?:\s*(?:\[[^\]]*\]|\([^)]*\)))?/g) ?? [];
  if (tight.length === count) return tight.map((cell) => cell.replaceAll('"', ""));
  const wide = line.split(/\s{2,}|\t/);
  return wide.length === count ? wide : splitCells(line, separator);
}
