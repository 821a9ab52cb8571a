import type { Cell, TableBlock } from "../model/block.js";
import { columnsOf, type PageWidths, type TablePart, tableParts } from "../model/table-widths.js";
import { type InlineSetting, type PaperInline, paperInlines, setWords } from "./paper-inline.js";

export interface PaperTable {
  readonly kind: "table";
  readonly id: string;
  readonly label: string;
  readonly caption: readonly PaperInline[];
  readonly turned: boolean;
  readonly widths: readonly number[];
  readonly size: number;
  readonly numeric: readonly boolean[];
  readonly head: readonly PaperCell[];
  readonly rows: readonly (readonly PaperCell[])[];
}

interface PaperCell {
  readonly of: readonly PaperInline[];
  readonly strong: boolean;
  readonly numeric: boolean;
  readonly span: number;
}

/** A table as one or several that fit their pages; the parts after the first say so. */
export function paperTables(
  table: TableBlock,
  setting: InlineSetting,
  page: PageWidths,
): readonly PaperTable[] {
  const columns = columnsOf([table.head, ...table.rows], (of) => setWords(of, setting.text));
  const parts = tableParts(columns, page);
  return parts.map((part, i) => paperTable(table, part, { setting, isFirst: i === 0 }));
}

function paperTable(
  { id, number, caption, head, rows }: TableBlock,
  { columns, widths_pt, text_pt, turned }: TablePart,
  { setting, isFirst }: { readonly setting: InlineSetting; readonly isFirst: boolean },
): PaperTable {
  const set = (line: readonly Cell[]) =>
    columns.flatMap((at) => {
      const cell = line[at];
      return cell === undefined ? [] : [paperCell(cell, columns.length, setting)];
    });
  const counted = number === null ? "" : `Table ${number}.`;
  return {
    kind: "table",
    id: isFirst ? id : "",
    label: isFirst || counted === "" ? counted : `Table ${number}, further columns.`,
    caption: paperInlines(caption, setting),
    turned,
    widths: widths_pt,
    size: text_pt,
    numeric: columns.map((at) => rows.some((row) => row[at]?.isNumeric === true)),
    head: set(head),
    rows: rows.map(set),
  };
}

function paperCell(cell: Cell, columns: number, setting: InlineSetting): PaperCell {
  const { content, isHeading, isNumeric, span } = cell;
  return {
    of: paperInlines(content, setting),
    strong: isHeading,
    numeric: isNumeric,
    span: Math.min(span, columns),
  };
}
