import {
  choleskyFactor,
  choleskySolve,
  forwardSolve,
} from "../../../../numerics/algebra/cholesky.js";
import { symmetricEigen } from "../../../../numerics/algebra/dense.js";
import { presentCount } from "../../../../numerics/statistics/present.js";
import { weightedMedian } from "../../../../numerics/statistics/weighted-median.js";

/** n × q residuals over their noise, NaN where missing, row by station. */
export interface Residuals {
  readonly value: Float64Array;
  readonly q: number;
  /** n weights, 0 where a station does not count. */
  readonly weight: Float64Array;
}

/** Residuals beyond so many scales count as that far out. */
const CAP = 3;
/** q × q covariance of residuals between channels, outliers limited. */
export function channelCovariance({ value, q, weight }: Residuals): Float64Array {
  const most = channelScales({ value, q, weight }).map((scale) => CAP * scale);
  const products = { sum: new Float64Array(q * q), count: new Float64Array(q * q) };
  const row = new Float64Array(q);
  for (let i = 0; i < weight.length; i++) {
    if (!(weight[i]! > 0)) continue;
    for (let c = 0; c < q; c++) {
      row[c] = Math.max(-most[c]!, Math.min(most[c]!, value[i * q + c]!));
    }
    addProducts(products, row, weight[i]!);
  }
  const { sum, count } = products;
  const mean = sum.map((total, at) => total / Math.max(count[at]!, 1e-9));
  return positiveCovariance(mean, q);
}

interface Products {
  /** q × q weighted sums, the lower triangle, and the weights in them. */
  readonly sum: Float64Array;
  readonly count: Float64Array;
}

/** An inner loop. */
function addProducts({ sum, count }: Products, row: Float64Array, w: number): void {
  const q = row.length;
  for (let a = 0; a < q; a++) {
    const own = row[a]!;
    if (Number.isNaN(own)) continue;
    const from = a * q;
    for (let b = 0; b <= a; b++) {
      const other = row[b]!;
      if (Number.isNaN(other)) continue;
      sum[from + b]! += w * (own * other);
      count[from + b]! += w;
    }
  }
}

/**
 * Shares of the channels' variances that are taken for their own: the least that makes a covariance
 * of it. Means over pairs of channels with different gaps need not be one.
 */
const OWN = [0.02, 0.1, 0.3, 0.6, 1];

/** A covariance from the lower triangle of mean products. */
function positiveCovariance(mean: Float64Array, q: number): Float64Array {
  const shrunk = (own: number) =>
    mean.map((_, at) => {
      const [a, b] = [Math.floor(at / q), at % q];
      return a === b ? mean[at]! + 1e-6 : (1 - own) * mean[Math.max(a, b) * q + Math.min(a, b)]!;
    });
  const own = OWN.find((share) => isPositive(shrunk(share), q));
  return shrunk(own ?? 1);
}

function isPositive(matrix: Float64Array, q: number): boolean {
  const { value } = symmetricEigen(matrix, q);
  return value[q - 1]! > 1e-6 * value[0]!;
}

/** 1.4826 × the weighted median of what a channel is off by. */
function channelScales({ value, q, weight }: Residuals): Float64Array {
  const [off, weights] = [new Float64Array(weight.length), new Float64Array(weight.length)];
  return Float64Array.from({ length: q }, (_, c) => {
    let count = 0;
    for (let i = 0; i < weight.length; i++) {
      const v = Math.abs(value[i * q + c]!);
      if (!(weight[i]! > 0) || Number.isNaN(v)) continue;
      off[count] = v;
      weights[count++] = weight[i]!;
    }
    return 1.4826 * (count > 0 ? weightedMedian(off, weights, count) : 1) || 1;
  });
}

/** Lower factors of the covariance of those channels that a station has. */
export class PresentFactors {
  private readonly made = new Map<string, PresentFactor>();
  private readonly all: PresentFactor;
  private last: PresentFactor;

  constructor(
    private readonly covariance: Float64Array,
    private readonly q: number,
  ) {
    this.all = this.factorOf(Int32Array.from({ length: q }, (_, c) => c));
    this.last = this.all;
  }

  /** Of the channels that are not NaN in a row of q. */
  at(row: ArrayLike<number>): PresentFactor {
    const count = presentCount(row);
    if (count === this.q) return this.all;
    // Neighbours mostly lack the same channels.
    if (!isOf(this.last, row, count)) this.last = this.found(row);
    return this.last;
  }

  private found(row: ArrayLike<number>): PresentFactor {
    const index = this.all.index.filter((c) => !Number.isNaN(row[c]!));
    const key = index.join(" ");
    const known = this.made.get(key) ?? this.factorOf(index);
    this.made.set(key, known);
    return known;
  }

  private factorOf(index: Int32Array): PresentFactor {
    const { covariance, q } = this;
    const p = index.length;
    const part = new Float64Array(p * p).map(
      (_, at) => covariance[index[Math.floor(at / p)]! * q + index[at % p]!]!,
    );
    const factor = choleskyFactor(part, p);
    const whiten = (column: ArrayLike<number>, out: Float64Array = new Float64Array(p)) => {
      for (let a = 0; a < p; a++) out[a] = column[index[a]!]!;
      out.fill(0, p);
      return forwardSolve(factor, p, out, out);
    };
    const white = new Float64Array(p);
    const squaredLength = (column: ArrayLike<number>) => {
      whiten(column, white);
      let sum = 0;
      for (let a = 0; a < p; a++) sum += white[a]! * white[a]!;
      return sum;
    };
    const precision = new Float64Array(q * q);
    for (const [a, c] of index.entries()) {
      const unit = new Float64Array(p);
      unit[a] = 1;
      const column = choleskySolve(factor, p, unit);
      for (const [b, d] of index.entries()) precision[c * q + d] = column[b]!;
    }
    return { index, factor, precision, whiten, squaredLength };
  }
}

/** Whether a factor is that of the `count` channels of a row that are not NaN. */
function isOf({ index }: PresentFactor, row: ArrayLike<number>, count: number): boolean {
  if (index.length !== count) return false;
  for (let a = 0; a < count; a++) if (Number.isNaN(row[index[a]!]!)) return false;
  return true;
}

interface PresentFactor {
  /** Numbers of the p channels. */
  readonly index: Int32Array;
  /** p × p. */
  readonly factor: Float64Array;
  /** q × q inverse of the covariance, 0 in rows and columns of channels that are missing. */
  readonly precision: Float64Array;
  /** L⁻¹ times the present entries of a column of q; written over `out`, 0 beyond them, if handed in. */
  readonly whiten: (column: ArrayLike<number>, out?: Float64Array) => Float64Array;
  /** Of the same. */
  readonly squaredLength: (column: ArrayLike<number>) => number;
}
