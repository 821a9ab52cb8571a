import { type BandMatrix, multiplyLower, solveLower } from "../../numerics/algebra/banded.js";
import { pivotedCholesky } from "../../numerics/algebra/pivoted-cholesky.js";

/** The readings' misfit about a section, as a quadratic form in ln ρ. */
export interface Linearised {
  /** ln ρ about which it holds. */
  readonly at: Float64Array;
  /** V with V Vᵀ = Jᵀ W J, m × r. */
  readonly directions: Float64Array;
  /** Jᵀ W (d − f). */
  readonly slope: Float64Array;
  /** V Vᵀ times `at`. */
  readonly known: Float64Array;
  /** (d − f)ᵀ W (d − f). */
  readonly misfit: number;
  /** Readings. */
  readonly count: number;
}

export interface Residuals {
  readonly residual: Float64Array;
  /** 1/variance of each. */
  readonly weight: Float64Array;
  /** Answers of the readings to each cell: m × n. */
  readonly jacobian: Float64Array;
}

/** What the readings say is left out where all of it would decide so many numbers at most. */
const LEFT_OUT = 1;

/**
 * `prior`: a factored precision that lets ground vary more than it is believed to. The form is
 * thinned in coordinates in which that prior is white, by what readings add to it.
 */
export function linearised(
  at: Float64Array,
  { residual, weight, jacobian }: Residuals,
  prior: BandMatrix,
): Linearised {
  const [m, n] = [at.length, residual.length];
  const root = weight.map(Math.sqrt);
  const scaled = jacobian.slice();
  const slope = new Float64Array(m);
  for (let c = 0, from = 0; c < m; c++, from += n) {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const entry = root[i]! * scaled[from + i]!;
      scaled[from + i] = entry;
      sum += entry * root[i]! * residual[i]!;
    }
    slope[c] = sum;
  }
  solveLower(prior, scaled, new Int32Array(n));
  const directions = pivotedCholesky(scaled, { m, leftTrace: LEFT_OUT });
  multiplyLower(prior, directions, directions.length / m);
  const misfit = residual.reduce((sum, value, i) => sum + weight[i]! * value ** 2, 0);
  const known = combinedDirections(directions, { y: alongDirections(directions, at), m });
  return { at, directions, slope, known, misfit, count: n };
}

/** The misfit of another section by the quadratic form. */
export function misfitOf(
  { at, directions, slope, misfit }: Linearised,
  logResistivity: Float64Array,
): number {
  const away = logResistivity.map((value, c) => value - at[c]!);
  const linear = away.reduce((sum, value, c) => sum + slope[c]! * value, 0);
  const along = alongDirections(directions, away);
  return along.reduce((sum, value) => sum + value * value, misfit - 2 * linear);
}

/** Vᵀ x of directions V, m × r. */
export function alongDirections(directions: Float64Array, x: Float64Array): Float64Array {
  const r = directions.length / x.length;
  const out = new Float64Array(r);
  for (let c = 0, from = 0; c < x.length; c++, from += r) {
    const share = x[c]!;
    for (let k = 0; k < r; k++) out[k] = out[k]! + share * directions[from + k]!;
  }
  return out;
}

/** V y of directions V, m × r. */
export function combinedDirections(
  directions: Float64Array,
  { y, m }: { readonly y: Float64Array; readonly m: number },
): Float64Array {
  const r = y.length;
  const out = new Float64Array(m);
  for (let c = 0, from = 0; c < m; c++, from += r) {
    let sum = 0;
    for (let k = 0; k < r; k++) sum += directions[from + k]! * y[k]!;
    out[c] = sum;
  }
  return out;
}

/** The first columns of a matrix, row by row, with columns of zeros where more are wanted. */
export function withColumns(
  matrix: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
): Float64Array {
  if (from === to) return matrix;
  const rows = matrix.length / from;
  const out = new Float64Array(rows * to);
  for (let row = 0; row < rows; row++) {
    out.set(matrix.subarray(row * from, row * from + Math.min(from, to)), row * to);
  }
  return out;
}
