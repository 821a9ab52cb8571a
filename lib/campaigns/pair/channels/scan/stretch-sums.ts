import { choleskyFactor, forwardSolve } from "../../../../numerics/algebra/cholesky.js";

/** The last of k running sums less those before the first. */
export function sums(running: Float64Array, k: number, first: number, last: number): Float64Array {
  const out = new Float64Array(k);
  const [after, before] = [(last + 1) * k, first * k];
  for (let a = 0; a < k; a++) out[a] = running[after + a]! - running[before + a]!;
  return out;
}

/** Sums of rows first … last. */
export function summed(rows: Float64Array, k: number, first: number, last: number): Float64Array {
  const out = new Float64Array(k);
  for (let i = first; i <= last; i++) {
    for (let a = 0; a < k; a++) out[a] = out[a]! + rows[i * k + a]!;
  }
  return out;
}

/** Adds (size × column)(size × column)ᵀ to a k × k matrix, for each of the columns of k. */
export function addSquares(
  matrix: Float64Array,
  k: number,
  { columns, size }: { readonly columns: Float64Array; readonly size: number },
): void {
  for (let from = 0; from < columns.length; from += k) {
    for (let a = 0; a < k; a++) {
      const own = size * size * columns[from + a]!;
      for (let b = 0; b < k; b++) matrix[a * k + b]! += own * columns[from + b]!;
    }
  }
}

/**
 * scoreᵀ matrix⁻¹ score; a matrix that is singular to working precision is lifted, and one without
 * any information says nothing: 0. The matrix is written over.
 */
export function quadratic(matrix: Float64Array, score: Float64Array): number {
  const k = score.length;
  let largest = 0;
  for (let a = 0; a < k; a++) largest = Math.max(largest, matrix[a * k + a]!);
  if (!(largest > 0)) return 0;
  for (let a = 0; a < k; a++) matrix[a * k + a]! += 1e-9 * largest;
  const white = forwardSolve(choleskyFactor(matrix, k, matrix), k, score);
  let sum = 0;
  for (let a = 0; a < k; a++) sum += white[a]! ** 2;
  return sum;
}
