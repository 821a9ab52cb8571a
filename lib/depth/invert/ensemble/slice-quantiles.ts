import { median, quantile } from "../../../numerics/statistics/robust.js";
import type { Slice } from "../../depth-slices.js";
import { type SliceDepths, sliceWeights } from "../../slices/choose-slices.js";
import type { LineDraws } from "./line-ensemble.js";

export type Bounded = NonNullable<Slice["bounded"]>;

export interface SliceQuantiles {
  /** n medians and n 10 % and 90 % quantiles of log10(ohm-m); NaN in gaps. */
  readonly p10: Float64Array;
  readonly p50: Float64Array;
  readonly p90: Float64Array;
  readonly bounded: Bounded;
}

/** Quantiles of each slice's mean over a line's draws. */
export function sliceQuantiles(
  draws: LineDraws,
  slices: readonly SliceDepths[],
): readonly SliceQuantiles[] {
  const { columns, top_m, prior } = draws;
  const m = top_m.length;
  return sliceWeights(top_m, slices).map((weights) => {
    const before = Float64Array.from({ length: prior.length / m }, (_, row) =>
      meanOf(prior, row * m, weights),
    ).sort();
    const n = columns.length / (draws.draws * m);
    const of = (p: number) => new Float64Array(n).fill(p);
    const [p10, p50, p90] = [of(0.1), of(0.5), of(0.9)];
    for (let i = 0; i < n; i++) {
      const values = Float64Array.from({ length: draws.draws }, (_, k) =>
        meanOf(columns, (i * draws.draws + k) * m, weights),
      );
      for (const row of [p10, p50, p90]) row[i] = hazen(values, row[i]!);
    }
    return { p10, p50, p90, bounded: boundedBy({ p10, p90 }, before) };
  });
}

/** log10(ohm-m) of a weighted mean of ln conductivities. */
function meanOf(columns: Float32Array, at: number, weights: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < weights.length; j++) {
    if (weights[j]! > 0) sum += weights[j]! * columns[at + j]!;
  }
  return -sum / Math.LN10;
}

/** The quantile with values at (k − ½)/count; NaN of NaN. Source: Hyndman & Fan 1996, no. 5. */
function hazen(values: Float64Array, p: number): number {
  if (Number.isNaN(values[0]!)) return Number.NaN;
  const count = values.length;
  return quantile(values, Math.min(1, Math.max(0, (p * count - 0.5) / (count - 1))));
}

/** An interval is open to a side at this share of the interval that the prior alone would leave. */
const OPEN = 0.5;

/**
 * An interval that reaches about as far from its lower end as the prior above that end does is
 * bounded from below only, and the other way round; by the median over the stations.
 */
function boundedBy(
  { p10, p90 }: Pick<SliceQuantiles, "p10" | "p90">,
  before: Float64Array,
): Bounded {
  const open = (share: (low: number, high: number) => number) =>
    median(p10.map((low, i) => share(low, p90[i]!))) >= OPEN;
  const up = open((low, high) => (high - low) / (restOf(before, low, 1) - low));
  const down = open((low, high) => (high - low) / (high - restOf(before, high, -1)));
  if (up && down) return "neither";
  return up ? "below" : down ? "above" : "both";
}

/** The outer decile of what a sorted prior holds beyond a value, upwards (1) or downwards (−1). */
function restOf(before: Float64Array, value: number, way: 1 | -1): number {
  let split = before.findIndex((one) => one > value);
  if (split < 0) split = before.length;
  const rest = way === 1 ? before.subarray(split) : before.subarray(0, split);
  return rest.length === 0 ? value : quantile(rest, way === 1 ? 0.9 : 0.1);
}
