import { itemAt } from "../../../numerics/arrays.js";
import type { Enquiry } from "../enquiry.js";
import type { RawLine } from "../text/raw-lines.js";
import { commonShape, shapeOf } from "../values/shape.js";
import { headerCells, SEPARATORS, type Separator, splitCells, withoutBlankEnd } from "./cells.js";
import { recogniseSeparator } from "./recognise-separator.js";
import { isUnitsLine } from "./units-line.js";

/** Where in a file what stands. */
export interface Layout {
  readonly separator: Separator;
  /** Null where there is no header: columns are then named by their number. */
  readonly headerRow: number | null;
  readonly unitsRow: number | null;
  readonly firstRow: number;
  readonly header: readonly string[];
  /** As they stand in a row of their own; "" where there is none. */
  readonly units: readonly string[];
  /** Cells of a row of data. */
  readonly count: number;
}

const COMMENT = /^\s*(#|\/\/|%|!|"#)/;
const SENTENCE = /^\s*\$[A-Z]{2,}[A-Z0-9]*,/;

/** True for a line that is a remark to the reader. */
export function isComment(text: string): boolean {
  return COMMENT.test(text);
}

/** The layout of a sample of a file's lines; null, with a fault, where it holds no table. */
export function recogniseLayout(
  file: string,
  lines: readonly RawLine[],
  enquiry: Enquiry,
): Layout | null {
  const filled = lines.filter(({ text }) => text.trim() !== "");
  const refused = refusal(filled);
  if (refused !== null) {
    enquiry.fault(`${file}: must be ${refused}`);
    return null;
  }
  const rows = filled.filter(({ text }) => !isComment(text));
  const found = recogniseSeparator(rows);
  if (found === null || found.share < 0.5) {
    const value = found === null ? "no rows of several numbers" : "rows of uneven form";
    enquiry.fault(`${file}: must be a table with a separator between its cells, got ${value}`);
    return null;
  }
  const separator = enquiry.settle({
    file,
    name: "separator",
    ask: "What stands between the cells of a row?",
    guess: found.separator,
    why: `parts ${(100 * found.share).toFixed(0)} % of the rows into ${found.count} sound cells`,
    isSure: found.share >= 0.9,
    choices: SEPARATORS,
  }) as Separator;
  return arranged(filled, separator);
}

/** Why a file is no table, as a rule and what there is instead; null where it may be one. */
function refusal(lines: readonly RawLine[]): string | null {
  if (lines.length === 0) return "a table, got an empty file";
  const sentences = lines.filter(({ text }) => SENTENCE.test(text));
  if (sentences.length < 0.05 * lines.length) return null;
  const first = itemAt(sentences, 0).row;
  return (
    `a table of readings, got sentences of a positioning device from row ${first} on ` +
    "(let the logger's own program export readings and positions as one table)"
  );
}

function arranged(lines: readonly RawLine[], separator: Separator): Layout {
  const rows = lines
    .filter(({ text }) => !isComment(text))
    .map((line) => ({ ...line, cells: splitCells(line.text, separator) }));
  const count = usualCount(rows.filter(({ cells }) => hasNumber(cells)));
  const first = rows.findIndex(({ cells }, i) => isData(cells, count) && follows(rows, i, count));
  const before = rows.slice(0, Math.max(0, first)).toReversed();
  const [last] = before;
  const units = last !== undefined && isUnitsLine(last.cells) ? last : null;
  const named = before[units === null ? 0 : 1] ?? commentHeader(lines, rows[first]?.row ?? 0);
  const cells = named === undefined ? [] : headerCells(uncommented(named.text), separator, count);
  const isHeader = withoutBlankEnd(cells).length >= 2 && cells.length >= count - 1;
  const header = isHeader ? cells : [];
  return {
    separator,
    headerRow: isHeader && named !== undefined ? named.row : null,
    unitsRow: units?.row ?? null,
    firstRow: rows[first]?.row ?? lines[0]?.row ?? 1,
    header: Array.from(
      { length: Math.max(count, withoutBlankEnd(header).length) },
      (_, c) => header[c] || `column ${c + 1}`,
    ),
    units: units?.cells ?? [],
    count,
  };
}

interface Row extends RawLine {
  readonly cells: readonly string[];
}

const hasNumber = (cells: readonly string[]) => cells.some((cell) => shapeOf(cell) === "number");

function usualCount(rows: readonly Row[]): number {
  const counts = new Map<number, number>();
  for (const { cells } of rows) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
  return [...counts].sort(([, one], [, other]) => other - one)[0]?.[0] ?? 0;
}

/** As long as the others, and at least half of what is filled in is no word. */
function isData(cells: readonly string[], count: number): boolean {
  if (cells.length !== count) return false;
  const shapes = cells.map(shapeOf).filter((shape) => shape !== "blank");
  return (
    shapes.length > 0 && shapes.filter((shape) => shape !== "word").length >= 0.5 * shapes.length
  );
}

/** A line of data has others behind it. */
function follows(rows: readonly Row[], at: number, count: number): boolean {
  const next = rows.slice(at + 1, at + 4);
  return next.filter(({ cells }) => isData(cells, count)).length >= 0.5 * next.length;
}

/** The last comment before the data, where no other line names the columns. */
function commentHeader(lines: readonly RawLine[], firstRow: number): RawLine | undefined {
  return lines.findLast(({ row, text }) => row < firstRow && isComment(text));
}

const uncommented = (text: string) => text.replace(COMMENT, "").trim();

/** True for cells that stand for the header once more, as where files were joined. */
export function repeatsHeader(cells: readonly string[], { header, headerRow }: Layout): boolean {
  if (headerRow === null) return false;
  const filled = withoutBlankEnd(cells);
  return filled.length >= 2 && filled.every((cell, c) => cell === "" || cell === header[c]);
}

/** The shape of a column's cells, for what its name leaves open. */
export function shapeOfColumn(rows: readonly (readonly string[])[], column: number) {
  return commonShape(rows.map((cells) => cells[column] ?? ""));
}
