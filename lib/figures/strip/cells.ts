import { mixed, rampColour } from "../colour.js";
import { greys, resistivityRamp } from "../theme.js";
import type { Cell } from "./strip-types.js";

/** `surface_m` is NaN where depths hang from no elevation. */
export interface DrawnCell extends Required<Cell> {
  readonly colour: string;
}

export interface CellDrawing {
  /** Cells narrower than this are merged with their neighbours of the same depth, m. */
  readonly width_m: number;
  /** Ends of the colour scale. */
  readonly domain: readonly [number, number];
  /** Elevations of the surface are drawn to a multiple of this, m; without it they are left out. */
  readonly surfaceStep_m?: number;
}

/** Cells that a figure may hold; wider merging keeps it below. */
const cellBudget = 1800;

/** Cells merged to what can be seen, with the colour each is drawn in. */
export function drawnCells(cells: readonly Cell[], drawing: CellDrawing): readonly DrawnCell[] {
  const rows = byDepth(cells.filter(({ value }) => value > 0));
  let width_m = drawing.width_m;
  for (;;) {
    const drawn = rows.flatMap((row) =>
      alike(merged(row, width_m).map((cell) => coloured(cell, drawing))),
    );
    if (drawn.length <= cellBudget || drawn.length <= rows.length) return drawn;
    width_m *= Math.max(1.2, drawn.length / cellBudget);
  }
}

function byDepth(cells: readonly Cell[]): readonly (readonly Cell[])[] {
  const rows = new Map<string, Cell[]>();
  for (const cell of cells) {
    const key = `${cell.top_m} ${cell.base_m}`;
    const row = rows.get(key);
    if (row === undefined) rows.set(key, [cell]);
    else row.push(cell);
  }
  const down = [...rows.values()].sort((a, b) => a[0]!.top_m - b[0]!.top_m);
  return down.map((row) => [...row].sort((a, b) => a.from_m - b.from_m));
}

/** Neighbours joined until they are wide enough: mean of the log values, mean of the confidence. */
function merged(row: readonly Cell[], width_m: number): readonly Required<Cell>[] {
  const out: Required<Cell>[] = [];
  let open: Cell[] = [];
  const close = () => {
    if (open.length > 0) out.push(meanOf(open));
    open = [];
  };
  for (const cell of row) {
    const last = open[open.length - 1];
    const apart = last !== undefined && cell.from_m - last.to_m > 0.01 * (last.to_m - last.from_m);
    const full = last !== undefined && last.to_m - open[0]!.from_m >= width_m;
    if (apart || full) close();
    open.push(cell);
  }
  close();
  return out;
}

function meanOf(cells: readonly Cell[]): Required<Cell> {
  const first = cells[0]!;
  const log = cells.reduce((sum, { value }) => sum + Math.log(value), 0) / cells.length;
  const confidence = cells.reduce((sum, cell) => sum + (cell.confidence ?? 1), 0) / cells.length;
  const surface_m =
    cells.reduce((sum, cell) => sum + (cell.surface_m ?? Number.NaN), 0) / cells.length;
  const value = Math.exp(log);
  return { ...first, to_m: cells[cells.length - 1]!.to_m, value, confidence, surface_m };
}

function coloured(cell: Required<Cell>, { domain, surfaceStep_m }: CellDrawing): DrawnCell {
  const confidence = Math.round(Math.min(Math.max(cell.confidence, 0), 1) * 20) / 20;
  const share = Math.log(cell.value / domain[0]) / Math.log(domain[1] / domain[0]);
  const place = Math.round(share * 80) / 80;
  const step = surfaceStep_m ?? 0;
  const surface_m = step > 0 ? step * Math.round(cell.surface_m / step) : Number.NaN;
  const colour = fadedColour(rampColour(resistivityRamp, place), confidence);
  return { ...cell, confidence, surface_m, colour };
}

/** A colour at a confidence of 0 to 1: full at 1, a tenth of it over the paper at 0. */
export function fadedColour(colour: string, confidence: number): string {
  return mixed(greys.background, colour, 0.1 + 0.9 * confidence);
}

/** Joins neighbours of one colour under one surface. */
function alike(cells: readonly DrawnCell[]): readonly DrawnCell[] {
  const out: DrawnCell[] = [];
  for (const cell of cells) {
    const last = out[out.length - 1];
    if (last !== undefined && joins(last, cell)) out[out.length - 1] = { ...last, to_m: cell.to_m };
    else out.push(cell);
  }
  return out;
}

function joins(last: DrawnCell, cell: DrawnCell): boolean {
  const touches = cell.from_m - last.to_m <= 0.01 * (cell.to_m - cell.from_m);
  return touches && last.colour === cell.colour && Object.is(last.surface_m, cell.surface_m);
}
