import { lastOf, neighbours } from "../../numerics/arrays.js";
import { type CellSize, gridLines } from "../grid-lines.js";
import type { SectionElectrode, SectionWater, WaterCover } from "../section-input.js";

/** Water over the columns of a grid, in rows of cells between its surface and the ground. */
export interface GridWater {
  readonly resistivity_ohm_m: number;
  /** Over each column; 0 where the ground is dry. */
  readonly depth_m: Float64Array;
  /** Rows' edges from the surface down, as shares of the depth: 0 to 1. */
  readonly shares: Float64Array;
}

/** Rows where no electrode lies under water. */
const FEW_ROWS = 2;
/** The wedge of water at its edge begins so far from it, in cells: the rest carries no current. */
const WEDGE = 0.05;

/** Bends of the ground under and beside water, and where the wedges of water begin. */
export function waterEdges(
  ground: readonly SectionElectrode[],
  { level_m, from_m, bed }: WaterCover,
  size: CellSize,
): number[] {
  const wedges = neighbours(ground).flatMap(([one, next]) => {
    const [a, b] = [one.elevation_m - level_m, next.elevation_m - level_m];
    if (a < 0 === b < 0) return [];
    const share = a / (a - b);
    const edge = one.x_m + share * (next.x_m - one.x_m);
    const wet = a < 0 ? one.x_m : next.x_m;
    const into = Math.min(WEDGE * size(edge), Math.abs(wet - edge) / 2);
    return [edge + Math.sign(wet - edge) * into];
  });
  return [...wedges.filter((x) => x >= from_m), ...bed.map(({ x_m }) => x_m)];
}

interface DryGrid {
  readonly x_m: Float64Array;
  readonly surface_m: Float64Array;
  readonly electrodeColumn: Int32Array;
}

/** The water over a grid; null where all ground is dry. */
export function gridWater(
  { x_m, surface_m, electrodeColumn }: DryGrid,
  { level_m, from_m, resistivity_ohm_m }: SectionWater,
  rowSize: CellSize,
): GridWater | null {
  const least = 1e-3 * rowSize(0);
  const depth_m = surface_m.map((elevation, column) => {
    const depth = level_m - elevation;
    return x_m[column]! >= from_m && depth > least ? depth : 0;
  });
  const deepest = depth_m.reduce((most, depth) => Math.max(most, depth), 0);
  if (!(deepest > 0)) return null;
  const isOver = electrodeColumn.some((column) => depth_m[column]! > 0);
  const shares = isOver ? mirrored(gridLines([0, deepest], rowSize)) : evenShares(FEW_ROWS);
  return { resistivity_ohm_m, depth_m, shares };
}

/** The rows below the surface, turned up: cells on both sides of an electrode are alike. */
function mirrored(rows: Float64Array): Float64Array {
  const depth = lastOf(rows);
  return rows.map((below) => 1 - below / depth).reverse();
}

function evenShares(rows: number): Float64Array {
  return Float64Array.from({ length: rows + 1 }, (_, row) => row / rows);
}
