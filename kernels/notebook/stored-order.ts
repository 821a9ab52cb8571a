import { analyseCells } from "../session/lineage/analyse-cells.js";
import { type Notebook, runs } from "./notebook.js";

/**
 * What the order in which a stored notebook had run is amiss, a sentence each: cells that ran
 * before one above them, and names of which a cell read another value than from top to bottom.
 * Cells are numbered as a run numbers them: those with something to run, from 1. Empty for a
 * notebook that has not run.
 */
export function storedOrder(notebook: Notebook): readonly string[] {
  const cells = notebook.cells.filter(runs);
  if (cells.every((cell) => cell.execution_count === null)) return [];
  const stored = cells.map((cell) => ({
    source: cell.source,
    executionCount: cell.execution_count,
  }));
  return analyseCells(stored)
    .problems.filter(({ kind }) => kind === "ran-early" || kind === "other-value")
    .map(({ text }) => text);
}
