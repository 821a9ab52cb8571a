/** A pivot below this share of its diagonal entry has lost all its digits. */
const LOST = 1e-14;

/**
 * The lower factor L of a small symmetric positive definite matrix A = L Lᵀ, m × m row by row; only
 * the lower triangle of A is read, the upper triangle of L is 0. A is left as it is.
 *
 * Throws a RangeError where A is not positive definite to working precision, NaN included.
 * Source: Golub & Van Loan 2013, Matrix Computations, algorithm 4.2.1.
 *
 * @example choleskyFactor(Float64Array.of(4, 2, 2, 5), 2); // [2, 0, 1, 2]
 */
export function choleskyFactor(matrix: Float64Array, m: number): Float64Array {
  const factor = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * m + j]!;
      for (let k = 0; k < j; k++) sum -= factor[i * m + k]! * factor[j * m + k]!;
      if (i !== j) {
        factor[i * m + j] = sum / factor[j * m + j]!;
        continue;
      }
      if (!(sum > LOST * matrix[i * m + i]! && sum < Infinity)) {
        throw new RangeError(
          `the matrix is not positive definite: pivot ${i + 1} of ${m} is ${sum}`,
        );
      }
      factor[i * m + i] = Math.sqrt(sum);
    }
  }
  return factor;
}

/** x of L Lᵀ x = right, as a new vector of length m. */
export function choleskySolve(factor: Float64Array, m: number, right: Float64Array): Float64Array {
  const x = forwardSolve(factor, m, right);
  for (let i = m - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < m; k++) sum -= factor[k * m + i]! * x[k]!;
    x[i] = sum / factor[i * m + i]!;
  }
  return x;
}

/** A⁻¹ = (L Lᵀ)⁻¹, m × m row by row. */
export function choleskyInverse(factor: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  for (let j = 0; j < m; j++) {
    const unit = new Float64Array(m);
    unit[j] = 1;
    const column = choleskySolve(factor, m, unit);
    for (let i = 0; i < m; i++) inverse[i * m + j] = column[i]!;
  }
  return inverse;
}

/** y of L y = right, as a new vector of length m: its squared length is rightᵀ A⁻¹ right. */
export function forwardSolve(factor: Float64Array, m: number, right: Float64Array): Float64Array {
  const y = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * m + k]! * y[k]!;
    y[i] = sum / factor[i * m + i]!;
  }
  return y;
}

/** ln det A = 2 Σ ln L_ii. */
export function choleskyLogDeterminant(factor: Float64Array, m: number): number {
  let sum = 0;
  for (let i = 0; i < m; i++) sum += 2 * Math.log(factor[i * m + i]!);
  return sum;
}
