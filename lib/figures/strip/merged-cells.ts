import { firstOf, lastOf } from "../../numerics/arrays.js";
import { mixed, rampColour } from "../colour.js";
import { greys, resistivityRamp } from "../theme.js";
import type { Cell } from "./types.js";

/** `surface_m` is NaN where depths hang from no elevation. */
export interface DrawnCell extends Required<Cell> {
  readonly colour: string;
}

interface CellDrawing {
  /** Cells narrower than this are merged with their neighbours of the same depth, m. */
  readonly width_m: number;
  /** Ends of the colour scale. */
  readonly domain: readonly [number, number];
  /** Elevations of the surface are drawn to a multiple of this, m; at 0 they are left out. */
  readonly surfaceStep_m: number;
}

/** Cells that a figure may hold; wider merging keeps it below. */
const cellBudget = 1800;

/** Cells merged to what can be seen, with the colour each is drawn in. */
export function drawnCells(cells: readonly Cell[], drawing: CellDrawing): readonly DrawnCell[] {
  const rows = byDepth(cells.filter(({ value }) => value > 0));
  let width_m = drawing.width_m;
  for (;;) {
    const drawn = rows.flatMap((row) =>
      joined(merged(row, width_m).map((cell) => coloured(cell, drawing))),
    );
    if (drawn.length <= cellBudget || drawn.length <= rows.length) return drawn;
    width_m *= Math.max(1.2, drawn.length / cellBudget);
  }
}

/** Rows of cells of one depth, from the top down, each along the bank. */
function byDepth(cells: readonly Cell[]): readonly (readonly Cell[])[] {
  const rows = new Map<string, Cell[]>();
  for (const cell of cells) {
    const key = `${cell.top_m} ${cell.base_m}`;
    const row = rows.get(key);
    if (row === undefined) rows.set(key, [cell]);
    else row.push(cell);
  }
  const down = [...rows.values()].sort((a, b) => firstOf(a).top_m - firstOf(b).top_m);
  return down.map((row) => row.sort((a, b) => a.from_m - b.from_m));
}

/** Neighbours merged until they are wide enough; a gap ends a merged cell. */
function merged(row: readonly Cell[], width_m: number): readonly Required<Cell>[] {
  const groups: Cell[][] = [];
  for (const cell of row) {
    const open = groups.at(-1);
    if (open !== undefined && takes(open, cell, width_m)) open.push(cell);
    else groups.push([cell]);
  }
  return groups.map(meanOf);
}

function takes(open: readonly Cell[], cell: Cell, width_m: number): boolean {
  const last = lastOf(open);
  const apart = cell.from_m - last.to_m > 0.01 * (last.to_m - last.from_m);
  return !apart && !(last.to_m - firstOf(open).from_m >= width_m);
}

/** Mean of the log values, of the confidence and of the surface. */
function meanOf(cells: readonly Cell[]): Required<Cell> {
  const mean = (of: (cell: Cell) => number) =>
    cells.reduce((sum, cell) => sum + of(cell), 0) / cells.length;
  return {
    ...firstOf(cells),
    to_m: lastOf(cells).to_m,
    value: Math.exp(mean(({ value }) => Math.log(value))),
    confidence: mean(({ confidence }) => confidence ?? 1),
    surface_m: mean(({ surface_m }) => surface_m ?? Number.NaN),
  };
}

function coloured(cell: Required<Cell>, { domain, surfaceStep_m }: CellDrawing): DrawnCell {
  const confidence = Math.round(Math.min(Math.max(cell.confidence, 0), 1) * 20) / 20;
  const share = Math.log(cell.value / domain[0]) / Math.log(domain[1] / domain[0]);
  const place = Math.round(share * 80) / 80;
  const surface_m =
    surfaceStep_m > 0 ? surfaceStep_m * Math.round(cell.surface_m / surfaceStep_m) : Number.NaN;
  const colour = fadedColour(rampColour(resistivityRamp, place), confidence);
  return { ...cell, confidence, surface_m, colour };
}

/** A colour at a confidence of 0 to 1: full at 1, a tenth of it over the paper at 0. */
export function fadedColour(colour: string, confidence: number): string {
  return mixed(greys.background, colour, 0.1 + 0.9 * confidence);
}

/** Neighbours of one colour under one surface as one cell. */
function joined(cells: readonly DrawnCell[]): readonly DrawnCell[] {
  const out: DrawnCell[] = [];
  for (const cell of cells) {
    const last = out.at(-1);
    if (last !== undefined && joins(last, cell)) out[out.length - 1] = { ...last, to_m: cell.to_m };
    else out.push(cell);
  }
  return out;
}

function joins(last: DrawnCell, cell: DrawnCell): boolean {
  const touches = cell.from_m - last.to_m <= 0.01 * (cell.to_m - cell.from_m);
  return touches && last.colour === cell.colour && Object.is(last.surface_m, cell.surface_m);
}
