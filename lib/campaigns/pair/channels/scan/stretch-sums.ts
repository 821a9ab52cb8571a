import { choleskyFactor, forwardSolve } from "../../../../numerics/algebra/cholesky.js";
import { itemAt } from "../../../../numerics/arrays.js";

/** The last of k running sums less those before the first. */
export function sums(running: Float64Array, k: number, first: number, last: number): Float64Array {
  return Float64Array.from(
    { length: k },
    (_, a) => running[(last + 1) * k + a]! - running[first * k + a]!,
  );
}

/** Sums of rows first … last. */
export function summed(rows: Float64Array, k: number, first: number, last: number): Float64Array {
  const out = new Float64Array(k);
  for (let i = first; i <= last; i++) {
    for (let a = 0; a < k; a++) out[a]! += itemAt(rows, i * k + a);
  }
  return out;
}

/** Adds (size × column)(size × column)ᵀ to a k × k matrix. */
export function addSquare(matrix: Float64Array, column: Float64Array, size: number): void {
  const k = column.length;
  for (let at = 0; at < matrix.length; at++) {
    matrix[at]! += size * size * itemAt(column, Math.floor(at / k)) * itemAt(column, at % k);
  }
}

/**
 * scoreᵀ matrix⁻¹ score; a matrix that is singular to working precision is lifted, and one without
 * any information says nothing: 0.
 */
export function quadratic(matrix: Float64Array, score: Float64Array): number {
  const k = score.length;
  const largest = Math.max(...score.map((_, a) => matrix[a * k + a]!));
  if (!(largest > 0)) return 0;
  for (let a = 0; a < k; a++) matrix[a * k + a]! += 1e-9 * largest;
  const white = forwardSolve(choleskyFactor(matrix, k), k, score);
  return white.reduce((sum, v) => sum + v * v, 0);
}
