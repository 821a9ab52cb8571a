import { escaped } from "./escaped.js";
import type { MimeBundle } from "./outputs.js";

/** What is needed of a danfojs DataFrame or Series, told by its shape and not by its class. */
export interface Frame {
  readonly $isSeries: boolean;
  readonly columns: readonly unknown[];
  readonly index: readonly unknown[];
  /** Rows of a data frame, or the elements of a series. */
  readonly values: readonly unknown[];
}

/** Rows shown at the most; the rest are counted. */
const shownRows = 30;

export function isFrame(value: unknown): value is Frame {
  if (typeof value !== "object" || value === null || !("$isSeries" in value)) return false;
  const { columns, index, values } = value as Frame;
  return Array.isArray(columns) && Array.isArray(index) && Array.isArray(values);
}

/** A data frame as an HTML table, all text escaped, and as plain text. */
export function frameBundle(frame: Frame): MimeBundle {
  const table = shownTable(frame);
  return { "text/html": htmlTable(table), "text/plain": textTable(table) };
}

interface ShownTable {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly size: string;
}

function shownTable(frame: Frame): ShownTable {
  const count = frame.index.length;
  const rows = Array.from({ length: Math.min(count, shownRows) }, (_, at) => {
    const row = frame.values[at];
    const cells = frame.$isSeries ? [row] : (row as readonly unknown[]);
    return [frame.index[at], ...cells].map(cellText);
  });
  const head = ["", ...frame.columns.map(cellText)];
  const more = count > shownRows ? `, the first ${shownRows} shown` : "";
  return { head, rows, size: `${count} rows × ${frame.columns.length} columns${more}` };
}

function cellText(value: unknown): string {
  if (typeof value !== "number") return String(value);
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(6)));
}

function htmlTable({ head, rows, size }: ShownTable): string {
  const line = (cells: readonly string[], tag: string) =>
    `<tr>${cells.map((cell, at) => htmlCell(cell, at === 0 ? "th" : tag)).join("")}</tr>`;
  return [
    "<table>",
    `<thead>${line(head, "th")}</thead>`,
    "<tbody>",
    ...rows.map((row) => line(row, "td")),
    "</tbody>",
    "</table>",
    `<p>${escaped(size)}</p>`,
  ].join("\n");
}

function htmlCell(text: string, tag: string): string {
  return `<${tag}>${escaped(text)}</${tag}>`;
}

function textTable({ head, rows, size }: ShownTable): string {
  const widths = head.map((cell, at) =>
    Math.max(cell.length, ...rows.map((row) => row[at]?.length ?? 0)),
  );
  const line = (cells: readonly string[]) =>
    cells.map((cell, at) => cell.padStart(widths[at] ?? 0)).join("  ");
  return [line(head), ...rows.map(line), size].join("\n");
}
