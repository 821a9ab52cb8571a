import { basename, dirname, resolve } from "node:path";
import type { Notebook } from "../notebook/notebook.js";
import { notebookText } from "../notebook/notebook-text.js";
import { readNotebook } from "../notebook/read-notebook.js";
import { runNotebook } from "../notebook/run-notebook.js";
import { storedOrder } from "../notebook/stored-order.js";
import { throwIfFailed } from "./failed-cell.js";
import { progressOn } from "./progress.js";
import { setValues } from "./set-values.js";
import { terminalText } from "./terminal-text.js";
import { writeWhole } from "./write-whole.js";

export interface RunCommandOptions {
  /** The file to write; nothing is written where undefined or where a cell fails. */
  readonly out: string | undefined;
  /** `name=value` words. */
  readonly set: readonly string[];
  /** Stores when each cell began and ended; the file then differs from run to run. */
  readonly timing: boolean;
  readonly signal: AbortSignal;
}

/** `banquette run`: executes a notebook in a fresh kernel, in the notebook's own folder. */
export async function runNotebookCommand(file: string, options: RunCommandOptions): Promise<void> {
  const set = setValues(options.set);
  const notebook = await readNotebook(file);
  tellStoredOrder(notebook, basename(file));
  const run = await runNotebook({
    notebook,
    folder: dirname(resolve(file)),
    set,
    timing: options.timing,
    onProgress: progressOn(process.stderr, notebook),
    signal: options.signal,
  });
  throwIfFailed(run, basename(file));
  if (options.out !== undefined) await writeWhole(options.out, notebookText(run.notebook));
  process.stdout.write(`${terminalText(runClosingWords(run.notebook, options.out))}\n`);
}

function runClosingWords({ cells }: Notebook, out: string | undefined): string {
  const ran = cells.filter((cell) => cell.cell_type === "code" && cell.execution_count !== null);
  const count = `${ran.length} ${ran.length === 1 ? "cell" : "cells"} ran`;
  return out === undefined
    ? `${count}; nothing written, --out FILE keeps the executed notebook`
    : `${count}. Written to ${out}`;
}

// The run itself goes from top to bottom: what it gives may differ from what is stored.
function tellStoredOrder(notebook: Notebook, name: string): void {
  for (const text of storedOrder(notebook)) {
    process.stderr.write(`${terminalText(`note: ${name} was stored out of order: ${text}`)}\n`);
  }
}
