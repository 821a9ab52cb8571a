import { neighbours } from "../../numerics/arrays.js";
import type { SectionCells } from "../model/section-cells.js";
import type { SectionTie } from "../section-options.js";

/** A known mean of ln ρ over some cells. */
export interface TieRow {
  readonly cells: Int32Array;
  readonly share: Float64Array;
  /** ln of ohm-m, and standard deviation. */
  readonly value: number;
  readonly sd: number;
}

/** Ties as means over the cells of their column; a tie beside the line's columns is left out. */
export function tieRows({ x_m, depth_m }: SectionCells, ties: readonly SectionTie[]): TieRow[] {
  const down = depth_m.length - 1;
  return ties.flatMap((tie) => {
    const column = x_m.findIndex((edge, i) => tie.x_m >= edge && tie.x_m < (x_m[i + 1] ?? edge));
    if (column < 0) return [];
    const within = neighbours(depth_m).map(([top, base], row) => {
      const end = row === down - 1 ? Infinity : base;
      return Math.max(0, Math.min(end, tie.base_m) - Math.max(top, tie.top_m));
    });
    const all = within.reduce((sum, one) => sum + one, 0);
    const rows = within.flatMap((height, row) => (height > 0 ? [row] : []));
    return [
      {
        cells: Int32Array.from(rows, (row) => column * down + row),
        share: Float64Array.from(rows, (row) => within[row]! / all),
        value: Math.log(tie.resistivity_ohm_m),
        sd: tie.log10Sd * Math.LN10,
      },
    ];
  });
}
