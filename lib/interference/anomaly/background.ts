import { presentCount } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { widened } from "./reading-run.js";

/** The local level of one channel on either side of each reading. */
export interface Background {
  /** n medians of the readings up to a window before, and after; NaN below `LEAST` readings. */
  readonly before: Float64Array;
  readonly after: Float64Array;
}

const LEAST = 3;

/**
 * Running medians that look to one side each, the reading itself left out. Where the ground passes
 * from one make into another, a reading lies between the two; where metal disturbs it, it does not.
 *
 * @param chainage_m - n chainages, never falling.
 * @param values - n values, NaN where missing.
 * @param window_m - how far each side looks.
 */
export function backgroundOf(
  chainage_m: Float64Array,
  values: Float64Array,
  window_m: number,
): Background {
  const before = new Float64Array(values.length);
  const after = new Float64Array(values.length);
  for (const i of values.keys()) {
    const { first, last } = widened(chainage_m, { first: i, last: i }, window_m);
    before[i] = sideMedian(values.subarray(first, i));
    after[i] = sideMedian(values.subarray(i + 1, last + 1));
  }
  return { before, after };
}

function sideMedian(side: Float64Array): number {
  return presentCount(side) < LEAST ? Number.NaN : median(side);
}
