import type { CsvRecord } from "./csv.js";

/** What a file shows of its own form, where its description says nothing of it. */

export const SEPARATOR_NAMES: Readonly<Record<string, string>> = Object.freeze({
  ",": "commas",
  ";": "semicolons",
  "\t": "tabs",
  "|": "upright strokes",
});

/**
 * The separator by which the first line holds the most names that are known; a comma where several
 * do equally well or the line holds none.
 */
export function likelyDelimiter(firstLine: string, names: ReadonlySet<string>): string {
  let [best, most] = [",", 0];
  for (const delimiter of Object.keys(SEPARATOR_NAMES)) {
    const cells = firstLine.split(delimiter).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1"));
    const known = cells.filter((cell) => names.has(cell)).length;
    if (known > most) [best, most] = [delimiter, known];
  }
  return best;
}

const decimalComma = /^[+-]?\d+,\d+$/;
const thousands = /^[+-]?[1-9]\d{0,2}(,\d{3})+$/;
const decimalPoint = /^[+-]?\d*\.\d+(e[+-]?\d+)?$/i;

/**
 * True where the cells of the number columns write decimals with a comma: one does so beyond doubt
 * (1,234 could be thousands) and none has a point.
 */
export function hasDecimalCommas(
  records: readonly CsvRecord[],
  columns: readonly number[],
): boolean {
  let found = false;
  for (const { cells } of records) {
    for (const c of columns) {
      const cell = cells[c]?.trim() ?? "";
      if (decimalPoint.test(cell)) return false;
      found ||= decimalComma.test(cell) && !thousands.test(cell);
    }
  }
  return found;
}

/** True for a record that says the header again, as files that were joined do. */
export function repeatsHeader({ cells }: CsvRecord, header: readonly string[]): boolean {
  return (
    header.length > 1 &&
    cells.length === header.length &&
    cells.every((cell, c) => cell.replace("\ufeff", "").trim() === header[c])
  );
}
