import type { NotebookRun } from "../notebook/run-notebook.js";
import { InputFault } from "./failure.js";

/** Lines of a failed cell shown at the most. */
const shownLines = 12;

/** Throws where the run stopped at a cell: the cell, shortened, and its trace. */
export function throwIfFailed({ failed }: NotebookRun, notebookName: string): void {
  if (failed === null) return;
  const { cell, error } = failed;
  const message = error.evalue.split("\n")[0] ?? "";
  const head = `${notebookName}: cell ${cell.execution_count} ("${cell.id}") failed`;
  throw new InputFault(
    [`${head}: ${error.ename}${message === "" ? "" : `: ${message}`}`],
    [...numbered(cell.source), "", ...error.traceback],
  );
}

function numbered(source: string): string[] {
  const lines = source.split("\n");
  const width = String(Math.min(lines.length, shownLines)).length;
  const shown = lines
    .slice(0, shownLines)
    .map((line, at) => `  ${String(at + 1).padStart(width)} | ${line}`.trimEnd());
  const more = lines.length - shown.length;
  return more > 0 ? [...shown, `  … ${more} more lines`] : shown;
}
