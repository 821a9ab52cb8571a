import { valueAt } from "../../numerics/arrays.js";
import { median, sortedQuantile } from "../../numerics/statistics/robust.js";
import type { Slice } from "../depth-slices.js";

/** An interval is open to a side at this share of the interval that the prior alone would leave. */
const OPEN = 0.5;

/**
 * The sides that the data bound a slice's mean from. An interval that reaches about as far from its
 * lower end as the prior above that end does is bounded from below only, and the other way round; by
 * the median over the stations. `before`: the prior's values, rising.
 */
export function boundedBy(
  { p10, p90 }: { readonly p10: Float64Array; readonly p90: Float64Array },
  before: Float64Array,
): NonNullable<Slice["bounded"]> {
  const open = (share: (low: number, high: number) => number) =>
    median(p10.map((low, i) => share(low, valueAt(p90, i)))) >= OPEN;
  const up = open((low, high) => (high - low) / (restOf(before, low, 1) - low));
  const down = open((low, high) => (high - low) / (high - restOf(before, high, -1)));
  if (up && down) return "neither";
  return up ? "below" : down ? "above" : "both";
}

/** The outer decile of what the prior holds beyond a value, upwards (1) or downwards (−1). */
function restOf(before: Float64Array, value: number, way: 1 | -1): number {
  const split = firstAbove(before, value);
  const rest = way === 1 ? before.subarray(split) : before.subarray(0, split);
  return rest.length === 0 ? value : sortedQuantile(rest, way === 1 ? 0.9 : 0.1);
}

/** The place of the first of rising values that is above one; their number where none is. */
function firstAbove(rising: Float64Array, value: number): number {
  let [low, high] = [0, rising.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (valueAt(rising, middle) > value) high = middle;
    else low = middle + 1;
  }
  return low;
}
