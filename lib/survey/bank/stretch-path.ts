import type { Centreline } from "../centreline.js";
import { positionAt } from "./position.js";

/** The centreline between two chainages with its bends: coordinates of m points, m. */
export function stretchPath(
  centreline: Centreline,
  { from_m, to_m }: { readonly from_m: number; readonly to_m: number },
): { readonly easting_m: readonly number[]; readonly northing_m: readonly number[] } {
  const bends = Array.from(centreline.chainage_m).filter((x) => x > from_m && x < to_m);
  const points = [from_m, ...bends, to_m].map((x) => positionAt(centreline, x));
  return {
    easting_m: points.map((point) => point.easting_m),
    northing_m: points.map((point) => point.northing_m),
  };
}
