import { textDifference } from "./compare-texts.js";
import { valueDifferences } from "./compare-values.js";
import type { ExecutedCell, ExecutedOutput } from "./executed-notebook.js";
import { figureDifference } from "./figure-difference.js";
import type { CellDifference, FigureDifference } from "./review.js";

export interface CellsCompared {
  readonly cells: readonly CellDifference[];
  readonly figures: readonly FigureDifference[];
  /** Figures that were compared. */
  readonly figureCount: number;
}

interface Gathering {
  readonly tolerance: number;
  readonly file: string;
  readonly cells: CellDifference[];
  readonly figures: FigureDifference[];
  figureCount: number;
}

const vegaLite = "application/vnd.vegalite.v5+json";

/** Stored outputs against those that the same cells give when they run again. */
export function compareCells(
  stored: readonly ExecutedCell[],
  again: readonly ExecutedCell[],
  { tolerance, file }: { readonly tolerance: number; readonly file: string },
): CellsCompared {
  const into: Gathering = { tolerance, file, cells: [], figures: [], figureCount: 0 };
  const ran = new Map(again.map((cell) => [cell.id, cell]));
  for (const cell of stored) {
    const other = ran.get(cell.id);
    if (other === undefined) continue;
    if (cell.hasRun !== other.hasRun) {
      const [was, is] = [cell, other].map(({ hasRun }) => (hasRun ? "has run" : "has not run"));
      into.cells.push(wholeCell(cell, { was: was ?? "", is: is ?? "" }));
    } else if (cell.outputs.length !== other.outputs.length) {
      const [was, is] = [cell, other].map(({ outputs }) => `${outputs.length} outputs`);
      into.cells.push(wholeCell(cell, { was: was ?? "", is: is ?? "" }));
    } else {
      for (const [i, output] of cell.outputs.entries()) {
        compareOutput({ cell: cell.id, output: i + 1 }, [output, other.outputs[i]], into);
      }
    }
  }
  return into;
}

function wholeCell({ id }: ExecutedCell, words: { readonly was: string; readonly is: string }) {
  return { cell: id, output: null, form: "cell", ...words };
}

type Place = Pick<CellDifference, "cell" | "output">;
type Both = readonly [ExecutedOutput, ExecutedOutput | undefined];

function compareOutput(place: Place, [one, other]: Both, into: Gathering): void {
  if (other === undefined) return;
  if (one.kind !== other.kind) {
    into.cells.push({ ...place, form: "output", was: one.kind, is: other.kind });
    return;
  }
  const [spec, otherSpec] = [one.parts[vegaLite], other.parts[vegaLite]];
  if (spec !== undefined && otherSpec !== undefined) {
    into.figureCount += 1;
    const figure = figureDifference([spec, otherSpec], into);
    // The drawing follows from the data: told once.
    if (figure !== null) {
      into.figures.push(figure);
      return;
    }
  }
  for (const form of new Set([...Object.keys(one.parts), ...Object.keys(other.parts)])) {
    const found = partDifference(one.parts[form], other.parts[form], into.tolerance);
    if (found !== null) into.cells.push({ ...place, form, ...found });
  }
}

function partDifference(was: unknown, is: unknown, tolerance: number) {
  if (typeof was === "string" && typeof is === "string") return textDifference(was, is, tolerance);
  const [first] = valueDifferences(was, is, tolerance);
  if (first === undefined) return null;
  return { was: `${first.path} ${first.was}`.trim(), is: `${first.path} ${first.is}`.trim() };
}
