import { type CodeCell, type Notebook, runs } from "./notebook.js";

/** A cell whose stored output was made after that of a cell further down. */
export interface OutOfOrder {
  readonly cell: CodeCell;
  /** The first cell below it that had run before it. */
  readonly ranBefore: CodeCell;
}

/**
 * Cells of a stored notebook that had not run from top to bottom, by their execution counts. Cells
 * that never ran have no count and are left out. Two equal counts come from two kernels, and so do
 * not tell that the lower cell followed the upper one.
 */
export function outOfOrder(notebook: Notebook): readonly OutOfOrder[] {
  const ran = notebook.cells.filter(runs).filter((cell) => cell.execution_count !== null);
  return ran.flatMap((cell, at) => {
    const ranBefore = ran
      .slice(at + 1)
      .find((below) => Number(below.execution_count) <= Number(cell.execution_count));
    return ranBefore === undefined ? [] : [{ cell, ranBefore }];
  });
}
