import {
  choleskyFactor,
  choleskySolve,
  forwardSolve,
} from "../../../../numerics/algebra/cholesky.js";
import { symmetricEigen } from "../../../../numerics/algebra/dense.js";

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
  const scale = channelScales({ value, q, weight });
  const capped = value.map((v, at) => {
    const s = scale[at % q]!;
    return Math.max(-CAP * s, Math.min(CAP * s, v));
  });
  const [sum, count] = [new Float64Array(q * q), new Float64Array(q * q)];
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i]!;
    if (!(w > 0)) continue;
    for (let a = 0; a < q; a++) {
      for (let b = 0; b <= a; b++) {
        const product = capped[i * q + a]! * capped[i * q + b]!;
        if (Number.isNaN(product)) continue;
        sum[a * q + b]! += w * product;
        count[a * q + b]! += w;
      }
    }
  }
  const mean = sum.map((total, at) => total / Math.max(count[at]!, 1e-9));
  return positiveCovariance(mean, q);
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
  return Float64Array.from({ length: q }, (_, c) => {
    const rows = Array.from(weight, (w, i) => ({ w, off: Math.abs(value[i * q + c]!) }))
      .filter(({ w, off }) => w > 0 && !Number.isNaN(off))
      .sort((one, other) => one.off - other.off);
    const half = rows.reduce((sum, { w }) => sum + w, 0) / 2;
    let passed = 0;
    const middle = rows.find(({ w }) => {
      passed += w;
      return passed >= half;
    });
    return 1.4826 * (middle?.off ?? 1) || 1;
  });
}

/** Lower factors of the covariance of those channels that a station has. */
export class PresentFactors {
  private readonly made = new Map<string, PresentFactor>();
  private readonly all: PresentFactor;

  constructor(
    private readonly covariance: Float64Array,
    private readonly q: number,
  ) {
    this.all = this.factorOf(Int32Array.from({ length: q }, (_, c) => c));
  }

  /** Of the channels that are not NaN in a row of q. */
  at(row: ArrayLike<number>): PresentFactor {
    if (!someMissing(row)) return this.all;
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
    const whiten = (column: ArrayLike<number>) => {
      const present = new Float64Array(p);
      for (let a = 0; a < p; a++) present[a] = column[index[a]!]!;
      return forwardSolve(factor, p, present);
    };
    const precision = new Float64Array(q * q);
    for (const [a, c] of index.entries()) {
      const unit = new Float64Array(p);
      unit[a] = 1;
      const column = choleskySolve(factor, p, unit);
      for (const [b, d] of index.entries()) precision[c * q + d] = column[b]!;
    }
    return { index, factor, precision, whiten };
  }
}

/** An inner loop: no callback. */
function someMissing(row: ArrayLike<number>): boolean {
  for (let c = 0; c < row.length; c++) if (Number.isNaN(row[c]!)) return true;
  return false;
}

interface PresentFactor {
  /** Numbers of the p channels. */
  readonly index: Int32Array;
  /** p × p. */
  readonly factor: Float64Array;
  /** q × q inverse of the covariance, 0 in rows and columns of channels that are missing. */
  readonly precision: Float64Array;
  /** L⁻¹ times the present entries of a column of q. */
  readonly whiten: (column: ArrayLike<number>) => Float64Array;
}
