import type { CsvRecord } from "./csv.js";

/** The form of a file by its content, where its description leaves it open. */

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

/** True for a record that repeats the header, as in files that were joined. */
export function repeatsHeader({ cells }: CsvRecord, header: readonly string[]): boolean {
  return (
    header.length > 1 &&
    cells.length === header.length &&
    cells.every((cell, c) => cell.replace("\ufeff", "").trim() === header[c])
  );
}

const OTHER_FORMATS: readonly (readonly [start: string, name: string])[] = [
  ["PK\u0003\u0004", "a spreadsheet or another zip file"],
  ["\u00d0\u00cf\u0011\u00e0", "an old spreadsheet file"],
  ["%PDF", "a PDF"],
  ["<!doctype", "a web page"],
  ["<html", "a web page"],
  ["<?xml", "an XML file"],
];

/** What a file is that is no table of text; null where it may be one. */
export function otherFormat(bytes: Uint8Array): string | null {
  const start = String.fromCharCode(...bytes.subarray(0, 16)).toLowerCase();
  return OTHER_FORMATS.find(([sign]) => start.startsWith(sign.toLowerCase()))?.[1] ?? null;
}

/**
 * How many records stand before the header: 0 where the first holds a known name, or none does
 * within reach. A later record is the header that holds three quarters of the names that must be
 * there.
 */
export function linesBeforeHeader(
  records: readonly CsvRecord[],
  needed: readonly string[],
): number {
  const known = ({ cells }: CsvRecord) =>
    needed.filter((name) => cells.some((cell) => cell.trim() === name)).length;
  const [first] = records;
  if (needed.length < 2 || first === undefined || known(first) > 0) return 0;
  const at = records
    .slice(0, FARTHEST_HEADER)
    .findIndex((one) => known(one) >= 0.75 * needed.length);
  return Math.max(0, at);
}

const FARTHEST_HEADER = 100;

/** True for a record that holds words in two number columns or more, and no number. */
export function isUnitsRow({ cells }: CsvRecord, numberColumns: readonly number[]): boolean {
  const own = numberColumns.map((c) => cells[c]?.trim() ?? "").filter((cell) => cell !== "");
  return (
    own.length >= 2 &&
    own.every((cell) => !/\d{2}|^[-+.]?\d|^(#|n\.?\/?a|null|none|-+$)/i.test(cell))
  );
}
