import type { CellOutput, MimeBundle } from "../session/show/outputs.js";
import type { Cell, Notebook } from "./notebook.js";

/**
 * A notebook as the text of its file, in the form in which Jupyter writes it: keys sorted, one
 * space of indent, texts as lists of lines, a newline at the end. The same notebook always gives
 * the same bytes.
 */
export function notebookText(notebook: Notebook): string {
  const stored = { ...notebook, cells: notebook.cells.map(storedCell) };
  return `${JSON.stringify(sorted(stored), null, 1)}\n`;
}

function storedCell(cell: Cell): unknown {
  const source = lines(cell.source);
  if (cell.cell_type !== "code") return { ...cell, source };
  return { ...cell, source, outputs: cell.outputs.map(storedOutput) };
}

function storedOutput(output: CellOutput): unknown {
  if (output.output_type === "stream") return { ...output, text: lines(output.text) };
  if (output.output_type === "error") return output;
  return { ...output, data: storedBundle(output.data) };
}

const textTypes = ["image/svg+xml", "application/javascript"];

function storedBundle(data: MimeBundle): MimeBundle {
  const entries = Object.entries(data).map(([mime, value]) => {
    const text = mime.startsWith("text/") || textTypes.includes(mime);
    return [mime, text && typeof value === "string" ? lines(value) : value];
  });
  return Object.fromEntries(entries) as MimeBundle;
}

function lines(text: string): string[] {
  return text === "" ? [] : text.split(/(?<=\n)/);
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, inner]) => [key, sorted(inner)]));
}
