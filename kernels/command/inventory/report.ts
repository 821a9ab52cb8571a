import { writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { appendixDocument, renderAppendix } from "../../../lib/index.js";
import { notebookText } from "../../notebook/notebook-text.js";
import { runNotebook } from "../../notebook/run-notebook.js";
import { throwIfFailed } from "../failed-cell.js";
import { readSource } from "../fill-appendix.js";
import { withoutPaths } from "../hide-paths.js";
import { packageFolder } from "../package.js";

const packagedNotebook = join(packageFolder, "notebooks", "inventory.ipynb");

export interface ReportOptions {
  /** The inventory's output folder, absolute. */
  readonly out: string;
  /** The notebook to run; the packaged one where undefined. */
  readonly notebook: string | undefined;
  readonly signal: AbortSignal;
}

/** Runs the inventory's notebook on what was gathered, and writes it executed and as a page. */
export async function reportInventory({ out, notebook, signal }: ReportOptions): Promise<void> {
  const source = await readSource(notebook ?? packagedNotebook);
  const run = await runNotebook({
    notebook: source.notebook,
    folder: dirname(source.file),
    set: { inventoryFolder: out },
    signal,
  });
  throwIfFailed(run, basename(source.file));
  const shown = withoutPaths(run.notebook, [
    [out, "."],
    [dirname(source.file), "."],
    [packageFolder.replace(/\/$/, ""), "banquette"],
  ]);
  await writeFile(join(out, "inventory.ipynb"), notebookText(shown));
  await writeFile(join(out, "inventory.html"), renderAppendix(appendixDocument(shown)));
}
