import { type SegmentCosts, segmentCost } from "./segment-cost.js";

/** Where a boundary lies, as indices of the first sample after it. */
export interface BoundaryRange {
  readonly at: number;
  /** Its posterior holds 5 % below `from` and 5 % above `to`. */
  readonly from: number;
  readonly to: number;
}

/**
 * The 90 % range of each break given its two neighbours, from its exact posterior: with equal
 * belief in every place between the neighbours and in every mean, the probability of a place is in
 * proportion to exp(−½ cost), the cost being that of the two segments with their length terms.
 *
 * Source: Fearnhead 2006, Statistics and Computing 16, 203–213.
 */
export function boundaryRanges(costs: SegmentCosts, breaks: readonly number[]): BoundaryRange[] {
  const edges = [0, ...breaks, costs.samples];
  return breaks.map((at, b) => ({ at, ...rangeBetween(costs, edges[b]!, edges[b + 2]!) }));
}

function rangeBetween(
  costs: SegmentCosts,
  before: number,
  after: number,
): { readonly from: number; readonly to: number } {
  const cost = Float64Array.from(
    { length: after - before - 1 },
    (_, i) =>
      segmentCost(costs, before, before + 1 + i) + segmentCost(costs, before + 1 + i, after),
  );
  const least = cost.reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY);
  const weight = cost.map((value) => Math.exp(-0.5 * (value - least)));
  const total = weight.reduce((sum, value) => sum + value, 0);
  let low = 0;
  for (let sum = weight[0]!; sum < 0.05 * total; low++) sum += weight[low + 1]!;
  let high = weight.length - 1;
  for (let sum = weight[high]!; sum < 0.05 * total; high--) sum += weight[high - 1]!;
  return { from: before + 1 + low, to: before + 1 + high };
}
