import type { Notebook } from "../notebook/notebook.js";
import type { CellProgress } from "../notebook/run-notebook.js";
import type { CallProgress } from "../notebook/worker-messages.js";
import { readOptionLines } from "../session/cell/option-lines.js";
import { barOf } from "../session/show/progress.js";
import { terminalText } from "./terminal-text.js";

/** Longest label of a cell, characters. */
const labelLength = 60;

/** Signs of a bar. */
const barLength = 16;

/**
 * A listener that tells on standard error which cell runs and how long each one took; on a terminal
 * also how far a long call within it is.
 */
export function progressOn(
  stream: Pick<NodeJS.WriteStream, "write" | "isTTY" | "columns">,
  notebook: Notebook,
): (progress: CellProgress) => void {
  const labels = cellLabels(notebook);
  return ({ cell, number, of, elapsed_s, call }) => {
    const label = labels.get(cell.id) ?? "parameters of this run";
    const text = terminalText(`cell ${number} of ${of}  ${label}`);
    const again = stream.isTTY ? "\r\x1b[K" : "";
    if (elapsed_s !== null) stream.write(`${again}${text}  ${seconds(elapsed_s)}\n`);
    else if (stream.isTTY) {
      const after = call === null ? "" : callText(call);
      // What runs over the edge could not be taken back.
      stream.write(`${again}${text.slice(0, (stream.columns || 80) - 1 - after.length)}${after}`);
    }
  };
}

function callText({ what, done, total }: CallProgress): string {
  const share = total > 0 ? Math.min(1, Math.max(0, done / total)) : 0;
  return `  ${barOf(share, barLength)} ${Math.floor(100 * share)} % ${terminalText(what)}`;
}

function seconds(elapsed_s: number): string {
  return `${elapsed_s.toFixed(1)} s`;
}

/** Cell id → the heading of the text right above it, the cell's own label, or its first line. */
export function cellLabels(notebook: Notebook): ReadonlyMap<string, string> {
  const labels = new Map<string, string>();
  let heading: string | null = null;
  for (const cell of notebook.cells) {
    if (cell.cell_type === "code") {
      labels.set(cell.id, shortened(heading ?? ownLabel(cell.source)));
      heading = null;
    } else {
      heading = /^#+\s+(.+)$/m.exec(cell.source)?.[1] ?? heading;
    }
  }
  return labels;
}

function ownLabel(source: string): string {
  const { options, code } = readOptionLines(source);
  return options.caption ?? options.label ?? code.trim().split("\n")[0] ?? "";
}

function shortened(text: string): string {
  return text.length > labelLength ? `${text.slice(0, labelLength - 1)}…` : text;
}
