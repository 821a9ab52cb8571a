import { choleskyFactor, forwardSolve } from "../../../../numerics/algebra/cholesky.js";

/** The last of k running sums less those before the first; written over `out` where handed in. */
export function sums(
  running: Float64Array,
  { k, first, last }: Stretch,
  out: Float64Array = new Float64Array(k),
): Float64Array {
  const after = (last + 1) * k;
  const before = first * k;
  for (let a = 0; a < k; a++) out[a] = running[after + a]! - running[before + a]!;
  return out;
}

/** Stations first … last of k columns. */
export interface Stretch {
  readonly k: number;
  readonly first: number;
  readonly last: number;
}

/** Sums of rows first … last. */
export function summed(
  rows: Float64Array,
  { k, first, last }: Stretch,
  out: Float64Array,
): Float64Array {
  out.fill(0);
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
      if (own === 0) continue;
      for (let b = 0; b < k; b++) matrix[a * k + b]! += own * columns[from + b]!;
    }
  }
}

/**
 * scoreᵀ matrix⁻¹ score; a matrix that is singular to working precision is lifted, and one without
 * any information says nothing: 0. Matrix and score are written over.
 */
export function quadratic(matrix: Float64Array, score: Float64Array): number {
  return factored(matrix, score.length) ? squaredLength(matrix, score) : 0;
}

/** A k × k matrix, lifted as above, becomes its lower factor. False where it has no information. */
export function factored(matrix: Float64Array, k: number): boolean {
  let largest = 0;
  for (let a = 0; a < k; a++) largest = Math.max(largest, matrix[a * k + a]!);
  if (!(largest > 0)) return false;
  for (let a = 0; a < k; a++) matrix[a * k + a]! += 1e-9 * largest;
  choleskyFactor(matrix, k, matrix);
  return true;
}

/** scoreᵀ (L Lᵀ)⁻¹ score; the score is written over. */
export function squaredLength(factor: Float64Array, score: Float64Array): number {
  const k = score.length;
  forwardSolve(factor, k, score, score);
  let sum = 0;
  for (let a = 0; a < k; a++) sum += score[a]! ** 2;
  return sum;
}
