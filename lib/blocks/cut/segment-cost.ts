/** What may change at a break: the mean alone, or the mean and the spread about it. */
export type ChangeKind = "mean" | "mean and spread";

/**
 * Running totals from which the cost of any segment follows in constant time per column.
 * Arrays are (n + 1) × d, row i holding the totals of the first i samples.
 */
export interface SegmentCosts {
  /** Samples, n. */
  readonly samples: number;
  /** Columns, d. */
  readonly columns: number;
  readonly change: ChangeKind;
  /** True where no sample is missing and all weigh 1: `count` and `weight` are then empty. */
  readonly whole: boolean;
  readonly count: Float64Array;
  readonly weight: Float64Array;
  readonly sum: Float64Array;
  /** Empty where `whole` and only the mean may change: `rowSquare` is enough. */
  readonly square: Float64Array;
  /** n + 1 running totals of the squares of all columns together. */
  readonly rowSquare: Float64Array;
  /** Factor of the logarithm of a segment's count in each column; 0 for no such term. */
  readonly lengthWeight: number;
  /** With "mean and spread": the weight of each column's log likelihood, above 0 to 1. */
  readonly likelihoodWeight: Float64Array;
  /** Natural logarithms of 0 … n, with 0 in place of log 0. */
  readonly log: Float64Array;
}

/** How many values are fitted to a column's segment. */
export const lengthWeightOf = (change: ChangeKind) => (change === "mean" ? 1 : 2);

/** No segment is taken to scatter less than a tenth of the noise: a variance of 0.01 of it. */
const LEAST_SPREAD = 0.01;

/** The cost of the segment of samples `from` … `to` − 1. */
export function segmentCost(costs: SegmentCosts, from: number, to: number): number {
  if (costs.change !== "mean") return spreadCost(costs, from, to);
  return costs.whole ? wholeCost(costs, from, to) : gappedCost(costs, from, to);
}

function wholeCost(costs: SegmentCosts, from: number, to: number): number {
  const { columns: d, sum, rowSquare, lengthWeight, log } = costs;
  if (to === from) return 0;
  let between = 0;
  for (let a = from * d, b = to * d; a < from * d + d; a++, b++) {
    const mass = sum[b]! - sum[a]!;
    between += mass * mass;
  }
  const squares = rowSquare[to]! - rowSquare[from]! - between / (to - from);
  return Math.max(0, squares) + lengthWeight * d * log[to - from]!;
}

function gappedCost(costs: SegmentCosts, from: number, to: number): number {
  const { columns: d, count, weight, sum, square, lengthWeight, log } = costs;
  let total = 0;
  for (let c = 0, a = from * d, b = to * d; c < d; c++, a++, b++) {
    const samples = count[b]! - count[a]!;
    if (samples === 0) continue;
    const mass = sum[b]! - sum[a]!;
    total += Math.max(0, square[b]! - square[a]! - (mass * mass) / (weight[b]! - weight[a]!));
    total += lengthWeight * log[samples]!;
  }
  return total;
}

/** Least over mean and variance v of Σ (n ln v + squares / v), v never below `LEAST_SPREAD`. */
function spreadCost(costs: SegmentCosts, from: number, to: number): number {
  const { columns: d, sum, square, lengthWeight, log, likelihoodWeight } = costs;
  let total = 0;
  for (let c = 0, a = from * d, b = to * d; c < d; c++, a++, b++) {
    const samples = costs.whole ? to - from : costs.count[b]! - costs.count[a]!;
    if (samples === 0) continue;
    const weight = costs.whole ? samples : costs.weight[b]! - costs.weight[a]!;
    const mass = sum[b]! - sum[a]!;
    const squares = Math.max(0, square[b]! - square[a]! - (mass * mass) / weight);
    const variance = Math.max(squares / weight, LEAST_SPREAD);
    total += likelihoodWeight[c]! * (weight * Math.log(variance) + squares / variance);
    total += lengthWeight * log[samples]!;
  }
  return total;
}

/** Samples present in column `c` among `from` … `to` − 1. */
export function samplesBetween(costs: SegmentCosts, span: readonly [number, number], c: number) {
  if (costs.whole) return span[1] - span[0];
  return costs.count[span[1] * costs.columns + c]! - costs.count[span[0] * costs.columns + c]!;
}

/**
 * A bound k such that cost(from, end) ≥ cost(from, at) + cost(at, end) + k for every later end.
 * What is fitted alone gives 0. The length term can grow by a split, by log n₁ + log n₂ −
 * log(n₁ + n₂) per column, which rises with n₂; the bound takes the largest n₂ that is left.
 */
export function splitBound(costs: SegmentCosts, from: number, at: number): number {
  const { columns: d, lengthWeight, log, samples } = costs;
  if (lengthWeight === 0) return 0;
  let bound = 0;
  for (let c = 0; c < d; c++) {
    const before = samplesBetween(costs, [from, at], c);
    const left = samplesBetween(costs, [at, samples], c);
    if (before === 0 || left === 0) continue;
    bound += Math.min(0, lengthWeight * (log[before + left]! - log[before]! - log[left]!));
  }
  return bound;
}
