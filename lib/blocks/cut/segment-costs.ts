import { firstOf, itemAt } from "../../numerics/arrays.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import type { ChangeKind, SegmentCosts } from "./segment-cost.js";

interface SegmentCostOptions {
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

/**
 * The running totals of columns that are centred and divided by their noise standard deviation.
 * Missing samples add nothing to any total.
 */
export function segmentCosts(
  columns: readonly ArrayLike<number>[],
  options: SegmentCostOptions,
): SegmentCosts {
  const d = columns.length;
  const n = firstOf(columns).length;
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
  for (const [c, column] of columns.entries()) {
    addColumn(totals, column, { c, d, noise: itemAt(options.noise, c), weights: weights?.[c] });
  }
  const { rowSquare } = totals;
  for (let i = 1; i <= n; i++) rowSquare[i] = rowSquare[i]! + rowSquare[i - 1]!;
  const likelihoodWeight = Float64Array.from(columns, (_, c) => options.likelihoodWeight?.[c] ?? 1);
  const log = Float64Array.from({ length: n + 1 }, (_, i) => (i === 0 ? 0 : Math.log(i)));
  return { samples: n, columns: d, change, whole, ...totals, lengthWeight, likelihoodWeight, log };
}

type Totals = Pick<SegmentCosts, "count" | "weight" | "sum" | "square" | "rowSquare">;

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

/** The price of a break's place by "mbic": 2 ln n. */
export const mbicPrice = (costs: SegmentCosts) => 2 * Math.log(Math.max(1, presentSamples(costs)));

/** Samples that are present in at least one column. */
function presentSamples(costs: SegmentCosts): number {
  const { samples, columns: d, count } = costs;
  if (costs.whole) return samples;
  let present = 0;
  for (let row = d; row < count.length; row += d) {
    const before = count.subarray(row - d, row);
    if (before.some((value, c) => itemAt(count, row + c) > value)) present++;
  }
  return present;
}
