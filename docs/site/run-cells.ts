import type { CodeCell, Notebook } from "../../kernels/notebook/notebook.js";
import { runNotebook } from "../../kernels/notebook/run-notebook.js";
import type { CellOutput } from "../../kernels/session/show/outputs.js";
import type { CodeBlock, Shown } from "./page.js";

/**
 * Runs the blocks as the cells of one notebook, from top to bottom in a fresh process, and gives the
 * outputs of each. Throws where a cell fails, with its page.
 */
export async function runCells(
  shown: readonly Shown[],
  folder: string,
): Promise<ReadonlyMap<CodeBlock, readonly CellOutput[]>> {
  const cells = shown.map(
    ({ block }, at): CodeCell => ({
      cell_type: "code",
      id: `cell-${at}`,
      metadata: {},
      source: block.source,
      execution_count: null,
      outputs: [],
    }),
  );
  const notebook: Notebook = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells };
  const run = await runNotebook({ notebook, folder });
  if (run.failed !== null) {
    const at = cells.findIndex(({ id }) => id === run.failed?.cell.id);
    throw new Error(`${shown[at]?.page.path}: ${run.failed.error.traceback.join("\n")}`);
  }
  return new Map(
    shown.map(({ block }, at) => {
      const cell = run.notebook.cells[at];
      return [block, cell?.cell_type === "code" ? cell.outputs : []] as const;
    }),
  );
}
