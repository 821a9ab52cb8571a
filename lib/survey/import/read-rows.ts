import { csvCell, type FieldPlan } from "./fields.js";
import { splitCells, withoutBlankEnd } from "./layout/cells.js";
import { isComment, repeatsHeader } from "./layout/recognise-layout.js";
import type { RowTally } from "./row-tally.js";
import { isWhole, type TableSource } from "./table-source.js";
import { rawLines } from "./text/raw-lines.js";

/** A row of a raw file as it is written. */
export interface ReadRow {
  readonly row: number;
  /** One cell a field. */
  readonly cells: readonly string[];
}

/**
 * The rows of a file one by one. Every line of it is counted: as read, or not, with the cause; so
 * is every cell that cannot be read, which is left blank.
 */
export function* readRows(
  { file, encoding, layout }: TableSource,
  fields: readonly FieldPlan[],
  tally: RowTally,
): Generator<ReadRow> {
  for (const { row, text } of rawLines(file.bytes, encoding)) {
    const apart = apartFrom(row, text, layout);
    if (apart !== null) {
      tally.passed(apart, row);
      continue;
    }
    const cells = splitCells(text, layout.separator);
    if (repeatsHeader(cells, layout)) tally.passed("the header once more", row);
    else if (!isWhole(cells, layout)) tally.lost(unevenCause(cells, layout.count), row);
    else {
      const written = writtenCells(cells, { fields, row, tally });
      if (written !== null) yield { row, cells: written };
    }
  }
}

/** What a line is that holds no row of the table; null for one that should. */
function apartFrom(row: number, text: string, layout: TableSource["layout"]): string | null {
  if (row === layout.headerRow) return "the header";
  if (row === layout.unitsRow) return "the units";
  if (text.trim() === "") return "blank lines";
  if (row < layout.firstRow) return "lines before the table";
  return isComment(text) ? "remarks" : null;
}

function unevenCause(cells: readonly string[], count: number): string {
  const own = Math.max(1, withoutBlankEnd(cells).length);
  return `${own < count ? "fewer" : "more"} cells than the ${count} of the table`;
}

function writtenCells(
  cells: readonly string[],
  { fields, row, tally }: { fields: readonly FieldPlan[]; row: number; tally: RowTally },
): readonly string[] | null {
  const written: string[] = [];
  for (const { name, isNeeded, write } of fields) {
    const value = write(cells);
    if (typeof value === "string") written.push(value);
    else if (isNeeded) {
      tally.lost(value.cause, row);
      return null;
    } else {
      tally.blanked(name, value.cause, row);
      written.push("");
    }
  }
  tally.kept();
  return written;
}

/** The text of a table: the fields, and the row of the raw file at the end. */
export function csvHeader(fields: readonly FieldPlan[]): string {
  return `${[...fields.map(({ name }) => name), RAW_ROW].join(",")}\n`;
}

export function csvRow({ cells, row }: ReadRow): string {
  return `${cells.map(csvCell).join(",")},${row}\n`;
}

/** The column that says where in the raw file a row stood. */
export const RAW_ROW = "raw_row";
