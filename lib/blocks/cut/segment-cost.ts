import { presentCount, presentMean } from "../../numerics/present.js";

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

export interface SegmentCostOptions {
  /** Noise variance of each column. */
  readonly noise: ArrayLike<number>;
  readonly lengthWeight: number;
  /** Default "mean". */
  readonly change?: ChangeKind;
  /** For each column, n weights from above 0 to 1; default 1 throughout. */
  readonly weights?: readonly ArrayLike<number>[];
  /** For each column; default 1. */
  readonly likelihoodWeight?: ArrayLike<number>;
}

/** How many values are fitted to a column's segment. */
export const lengthWeightOf = (change: ChangeKind) => (change === "mean" ? 1 : 2);

/** No segment is taken to scatter less than a tenth of the noise: a variance of 0.01 of it. */
const LEAST_SPREAD = 0.01;

/**
 * The running totals of columns that are centred and divided by their noise standard deviation.
 * Missing samples add nothing to any total.
 */
export function segmentCosts(
  columns: readonly ArrayLike<number>[],
  options: SegmentCostOptions,
): SegmentCosts {
  const d = columns.length;
  const n = columns[0]!.length;
  const { lengthWeight, change = "mean", weights } = options;
  const whole = weights === undefined && columns.every((column) => presentCount(column) === n);
  const size = (n + 1) * d;
  const totals = {
    count: new Float64Array(whole ? 0 : size),
    weight: new Float64Array(whole ? 0 : size),
    sum: new Float64Array(size),
    square: new Float64Array(whole && change === "mean" ? 0 : size),
    rowSquare: new Float64Array(n + 1),
  };
  for (let c = 0; c < d; c++) {
    addColumn(totals, columns[c]!, { c, d, noise: options.noise[c]!, weights: weights?.[c] });
  }
  const { rowSquare } = totals;
  for (let i = 1; i <= n; i++) rowSquare[i] = rowSquare[i]! + rowSquare[i - 1]!;
  const likelihoodWeight = Float64Array.from(
    { length: d },
    (_, c) => options.likelihoodWeight?.[c] ?? 1,
  );
  const log = logarithms(n);
  return { samples: n, columns: d, change, whole, ...totals, lengthWeight, likelihoodWeight, log };
}

interface Totals {
  readonly count: Float64Array;
  readonly weight: Float64Array;
  readonly sum: Float64Array;
  readonly square: Float64Array;
  readonly rowSquare: Float64Array;
}

interface ColumnPlace {
  readonly c: number;
  readonly d: number;
  readonly noise: number;
  readonly weights: ArrayLike<number> | undefined;
}

function addColumn(totals: Totals, column: ArrayLike<number>, place: ColumnPlace): void {
  const { c, d, weights } = place;
  const { count, weight, sum, square, rowSquare } = totals;
  const centre = presentMean(column) || 0;
  const scale = 1 / Math.sqrt(place.noise);
  for (let i = 0, from = c; i < column.length; i++, from += d) {
    const value = (column[i]! - centre) * scale;
    const present = !Number.isNaN(value);
    const w = present ? (weights?.[i] ?? 1) : 0;
    const x = present ? value : 0;
    sum[from + d] = sum[from]! + w * x;
    rowSquare[i + 1] = rowSquare[i + 1]! + w * x * x;
    if (count.length > 0) {
      count[from + d] = count[from]! + (present ? 1 : 0);
      weight[from + d] = weight[from]! + w;
    }
    if (square.length > 0) square[from + d] = square[from]! + w * x * x;
  }
}

/** The costs of the same row read from its other end. */
export function reversedCosts(costs: SegmentCosts): SegmentCosts {
  const { columns: d, samples: n } = costs;
  const mirrored = (totals: Float64Array, width: number) =>
    totals.map((_, i) => {
      const c = i % width;
      return totals[n * width + c]! - totals[(n - (i - c) / width) * width + c]!;
    });
  return {
    ...costs,
    count: mirrored(costs.count, d),
    weight: mirrored(costs.weight, d),
    sum: mirrored(costs.sum, d),
    square: mirrored(costs.square, d),
    rowSquare: mirrored(costs.rowSquare, 1),
  };
}

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

/** Samples that are present in at least one column. */
export function presentSamples(costs: SegmentCosts): number {
  const { samples, columns: d, count } = costs;
  if (costs.whole) return samples;
  let present = 0;
  for (let i = 0; i < samples; i++) {
    let any = false;
    for (let c = 0; c < d; c++) any ||= count[(i + 1) * d + c]! > count[i * d + c]!;
    if (any) present++;
  }
  return present;
}

function logarithms(n: number): Float64Array {
  return Float64Array.from({ length: n + 1 }, (_, i) => (i === 0 ? 0 : Math.log(i)));
}
