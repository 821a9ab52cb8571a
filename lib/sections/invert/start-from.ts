import { neighbours } from "../../numerics/arrays.js";
import type { SectionCells } from "../model/section-cells.js";
import type { ArrayPlace } from "../readings/array-kind.js";

/** Reach of a reading about where it looks: along in median depths, and in ln depth. */
const ALONG = 1.5;
const DOWN = 0.35;

/**
 * A first section for Gauss and Newton's steps: in each cell the mean of ln apparent resistivities
 * weighted by how near they look. It is nothing that the result rests on.
 */
export function startFrom(
  { x_m, depth_m }: SectionCells,
  places: readonly ArrayPlace[],
  logApparent: Float64Array,
): Float64Array {
  const middles = (edges: readonly number[]) =>
    neighbours(edges).map(([from, to]) => (from + to) / 2);
  const rows = middles(depth_m);
  return Float64Array.from(
    middles(x_m).flatMap((x) => rows.map((z) => nearMean(places, logApparent, { x, z }))),
  );
}

function nearMean(
  places: readonly ArrayPlace[],
  logApparent: Float64Array,
  { x, z }: { readonly x: number; readonly z: number },
): number {
  let [sum, weights] = [0, 0];
  places.forEach(({ x_m, medianDepth_m }, n) => {
    const along = (x_m - x) / (ALONG * medianDepth_m + z);
    const down = Math.log(medianDepth_m / z) / DOWN;
    // Never quite 0, so that cells out of reach take the mean of what is nearest.
    const weight = 1 / (1e-6 + (1 + along ** 2) ** 2 * (1 + down ** 2) ** 2);
    sum += weight * logApparent[n]!;
    weights += weight;
  });
  return sum / weights;
}
