import { createHash } from "node:crypto";
import { hasTag, type Notebook } from "../notebook/notebook.js";
import { injectedTag } from "../notebook/parameters.js";
import type { Versions } from "./package.js";

export interface NotebookProvenance {
  readonly notebook: { readonly file: string; readonly sha256: string };
  /**
   * Every code cell of the notebook in its order, parameters as they stand in the file; without the
   * cell that gave them their values in an earlier run.
   */
  readonly cells: readonly { readonly id: string; readonly sha256: string }[];
  readonly versions: Versions;
}

/** What the library cannot know of a run: the notebook, its cells, and the versions. */
export function notebookProvenance(
  file: { readonly name: string; readonly text: string },
  notebook: Notebook,
  versions: Versions,
): NotebookProvenance {
  const code = notebook.cells.filter(
    (cell) => cell.cell_type === "code" && !hasTag(cell, injectedTag),
  );
  return {
    notebook: { file: file.name, sha256: sha256(file.text) },
    cells: code.map(({ id, source }) => ({ id, sha256: sha256(source) })),
    versions,
  };
}

function sha256(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
