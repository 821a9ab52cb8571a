import { rm } from "node:fs/promises";
import type { Notebook } from "../notebook/notebook.js";
import { notebookText } from "../notebook/notebook-text.js";
import { terminalText } from "./terminal-text.js";
import { writeWhole } from "./write-whole.js";

/** The name under which a run that failed is kept: never that of an appendix. */
const failedRunName = (out: string) => `${out}.failed-run.ipynb`;

/**
 * Keeps a run that stopped at a cell beside the folder that it was to fill: the cells that ran with
 * their outputs, the failed one with its error, and above them a cell that says what this is.
 */
export async function keepFailedRun(out: string, notebook: Notebook): Promise<void> {
  const file = failedRunName(out);
  const told = {
    cell_type: "markdown",
    id: "failed-run",
    metadata: {},
    source:
      "**A run that failed, not an appendix.** It stopped at the cell that shows an error; the cells below it did not run.",
  } as const;
  const metadata = { ...notebook.metadata, failedRun: true };
  const kept = {
    ...notebook,
    metadata,
    cells: [told, ...notebook.cells.filter(({ id }) => id !== told.id)],
  };
  const error = await writeWhole(file, notebookText(kept)).catch((refused: Error) => refused);
  if (error !== undefined) {
    const text = `the cells that ran cannot be kept in ${file} (${error.message})`;
    process.stderr.write(`${terminalText(text)}\n`);
    return;
  }
  process.stderr.write(`${terminalText(`the cells that ran are kept in ${file}`)}\n`);
}

/** Takes away what an earlier run into the same folder left when it failed. */
export async function forgetFailedRun(out: string): Promise<void> {
  await rm(failedRunName(out), { force: true });
}
