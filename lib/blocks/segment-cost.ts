/**
 * Running totals from which the cost of any segment follows in constant time per column.
 * Arrays are (n + 1) × d, row i holding the totals of the first i samples.
 */
export interface SegmentCosts {
  /** Samples, n. */
  readonly samples: number;
  /** Columns, d. */
  readonly columns: number;
  readonly count: Float64Array;
  readonly sum: Float64Array;
  readonly square: Float64Array;
  /** What the logarithm of a segment's count is multiplied with in each column; 0 for no such term. */
  readonly lengthWeight: number;
  /** Natural logarithms of 0 … n, with 0 in place of log 0. */
  readonly log: Float64Array;
}

/**
 * The running totals of columns that are centred and divided by their noise standard deviation.
 * Missing samples add nothing to any total.
 */
export function segmentCosts(
  columns: readonly ArrayLike<number>[],
  noise: ArrayLike<number>,
  lengthWeight: number,
): SegmentCosts {
  const d = columns.length;
  const n = columns[0]!.length;
  const count = new Float64Array((n + 1) * d);
  const sum = new Float64Array((n + 1) * d);
  const square = new Float64Array((n + 1) * d);
  for (let c = 0; c < d; c++) {
    const column = columns[c]!;
    const centre = presentMean(column);
    const scale = 1 / Math.sqrt(noise[c]!);
    for (let i = 0; i < n; i++) {
      const from = i * d + c;
      const value = (column[i]! - centre) * scale;
      const present = !Number.isNaN(value);
      count[from + d] = count[from]! + (present ? 1 : 0);
      sum[from + d] = sum[from]! + (present ? value : 0);
      square[from + d] = square[from]! + (present ? value * value : 0);
    }
  }
  return { samples: n, columns: d, count, sum, square, lengthWeight, log: logarithms(n) };
}

/** The cost of the segment of samples `from` … `to` − 1. */
export function segmentCost(costs: SegmentCosts, from: number, to: number): number {
  const { columns: d, count, sum, square, lengthWeight, log } = costs;
  let total = 0;
  for (let c = 0, a = from * d, b = to * d; c < d; c++, a++, b++) {
    const samples = count[b]! - count[a]!;
    if (samples === 0) continue;
    const mass = sum[b]! - sum[a]!;
    total += Math.max(0, square[b]! - square[a]! - (mass * mass) / samples);
    total += lengthWeight * log[samples]!;
  }
  return total;
}

/**
 * A bound k such that cost(from, end) ≥ cost(from, at) + cost(at, end) + k for every later end.
 * Squares alone give 0. The length term can grow by a split, by log n₁ + log n₂ − log(n₁ + n₂)
 * per column, which rises with n₂; the bound takes the largest n₂ that is left.
 */
export function splitBound(costs: SegmentCosts, from: number, at: number): number {
  const { columns: d, count, lengthWeight, log, samples } = costs;
  if (lengthWeight === 0) return 0;
  let bound = 0;
  for (let c = 0; c < d; c++) {
    const before = count[at * d + c]! - count[from * d + c]!;
    const left = count[samples * d + c]! - count[at * d + c]!;
    if (before === 0 || left === 0) continue;
    bound += Math.min(0, lengthWeight * (log[before + left]! - log[before]! - log[left]!));
  }
  return bound;
}

/** Samples that are present in at least one column. */
export function presentSamples(costs: SegmentCosts): number {
  const { samples, columns: d, count } = costs;
  let present = 0;
  for (let i = 0; i < samples; i++) {
    let any = false;
    for (let c = 0; c < d; c++) any ||= count[(i + 1) * d + c]! > count[i * d + c]!;
    if (any) present++;
  }
  return present;
}

function presentMean(column: ArrayLike<number>): number {
  let sum = 0;
  let present = 0;
  for (let i = 0; i < column.length; i++) {
    if (Number.isNaN(column[i]!)) continue;
    sum += column[i]!;
    present++;
  }
  return present === 0 ? 0 : sum / present;
}

function logarithms(n: number): Float64Array {
  const log = new Float64Array(n + 1);
  for (let i = 1; i <= n; i++) log[i] = Math.log(i);
  return log;
}
