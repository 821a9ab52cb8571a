import { valueAt } from "../../numerics/arrays.js";
import type { EvidenceName } from "../seepage.js";

/** The cells' centres along chainage, and the half-width of a cell. */
export interface Cells {
  readonly chainage_m: Float64Array;
  readonly half_m: number;
}

/** A stretch of cells, as statements name it. */
export interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

/** A named piece of evidence along the cells: how far it is present, and how to say so. */
export interface Presence {
  readonly name: EvidenceName;
  /** n values 0 … 1; NaN where nothing is known. */
  readonly value: Float64Array;
  /** The data and the model behind it, under which its probabilities hold. */
  readonly source: string;
  /** A sentence for a stretch, given the mean value over it. */
  readonly statement: (value: number, stretch: Stretch) => string;
  /** Why nothing is known where it is not; default "Not known here." */
  readonly unknown?: string;
}

/** A piece of which nothing is known anywhere on the line. */
export function unknownPiece(cells: Cells, name: EvidenceName, unknown: string): Presence {
  const value = new Float64Array(cells.chainage_m.length).fill(Number.NaN);
  return { name, value, source: "", statement: () => unknown, unknown };
}

export function cellsAlong(chainage_m: Float64Array, cell_m: number): Cells {
  const n = chainage_m.length;
  if (n === 0) return { chainage_m: new Float64Array(0), half_m: cell_m / 2 };
  const [first, last] = [valueAt(chainage_m, 0), valueAt(chainage_m, n - 1)];
  const count = Math.floor((last - first) / cell_m) + 1;
  const centres = Float64Array.from({ length: count }, (_, i) => first + i * cell_m);
  return { chainage_m: centres, half_m: cell_m / 2 };
}

/** Mean over the places within each cell; NaN where it has none with a value. */
export function overCells(
  cells: Cells,
  places_m: Float64Array,
  at: (place: number) => number,
): Float64Array {
  const sums = new Float64Array(cells.chainage_m.length);
  const counts = new Int32Array(sums.length);
  const first = cells.chainage_m[0] ?? 0;
  for (let i = 0; i < places_m.length; i++) {
    const cell = Math.floor((places_m[i]! - first) / (2 * cells.half_m) + 0.5);
    const value = at(i);
    if (Number.isNaN(value) || !(cell >= 0 && cell < sums.length)) continue;
    sums[cell]! += value;
    counts[cell]!++;
  }
  return sums.map((sum, cell) => sum / counts[cell]!);
}

export const percent = (share: number) => `${Math.round(100 * share)} %`;
