/** A pivot below this share of its diagonal entry has lost all its digits. */
const LOST = 1e-14;

/**
 * The lower factor L of a small symmetric positive definite matrix A = L Lᵀ, m × m row by row; only
 * the lower triangle of A is read. `factor` may be handed in to be written over, and may be A itself;
 * its upper triangle stays as it is, that of a new one is 0.
 *
 * Throws a RangeError where A is not positive definite to working precision, NaN included.
 * Source: Golub & Van Loan 2013, Matrix Computations, algorithm 4.2.1.
 *
 * @example choleskyFactor(Float64Array.of(4, 2, 2, 5), 2); // [2, 0, 1, 2]
 */
export function choleskyFactor(
  matrix: Float64Array,
  m: number,
  factor: Float64Array = new Float64Array(m * m),
): Float64Array {
  for (let j = 0; j < m; j++) {
    const own = matrix[j * m + j]!;
    let pivot = own;
    for (let k = j * m; k < j * m + j; k++) pivot -= factor[k]! * factor[k]!;
    if (!(pivot > LOST * own && pivot < Infinity)) {
      throw new RangeError(
        `the matrix is not positive definite: pivot ${j + 1} of ${m} is ${pivot}`,
      );
    }
    factor[j * m + j] = Math.sqrt(pivot);
    fillBelow(factor, matrix, { m, j });
  }
  return factor;
}

/** Column j below its pivot; four rows side by side, so that no sum waits for another. */
function fillBelow(
  factor: Float64Array,
  matrix: Float64Array,
  { m, j }: { readonly m: number; readonly j: number },
): void {
  const own = j * m;
  const pivot = factor[own + j]!;
  let i = j + 1;
  for (; i + 3 < m; i += 4) {
    const p = i * m;
    const q = p + m;
    const r = q + m;
    const s = r + m;
    let a = matrix[p + j]!;
    let b = matrix[q + j]!;
    let c = matrix[r + j]!;
    let d = matrix[s + j]!;
    for (let k = 0; k < j; k++) {
      const share = factor[own + k]!;
      a -= factor[p + k]! * share;
      b -= factor[q + k]! * share;
      c -= factor[r + k]! * share;
      d -= factor[s + k]! * share;
    }
    factor[p + j] = a / pivot;
    factor[q + j] = b / pivot;
    factor[r + j] = c / pivot;
    factor[s + j] = d / pivot;
  }
  for (; i < m; i++) {
    let sum = matrix[i * m + j]!;
    for (let k = 0; k < j; k++) sum -= factor[i * m + k]! * factor[own + k]!;
    factor[i * m + j] = sum / pivot;
  }
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

/**
 * y of L y = right, a vector of length m: its squared length is rightᵀ A⁻¹ right. Four rows side by
 * side, so that no sum waits for another. `y` may be handed in to be written over, and may be
 * `right` itself: where very many small systems are solved, new vectors cost more than the sums.
 */
export function forwardSolve(
  factor: Float64Array,
  m: number,
  right: Float64Array,
  y: Float64Array = new Float64Array(m),
): Float64Array {
  let i = 0;
  for (; i + 3 < m; i += 4) {
    const p = i * m;
    const q = p + m;
    const r = q + m;
    const s = r + m;
    let a = right[i]!;
    let b = right[i + 1]!;
    let c = right[i + 2]!;
    let d = right[i + 3]!;
    for (let k = 0; k < i; k++) {
      const known = y[k]!;
      a -= factor[p + k]! * known;
      b -= factor[q + k]! * known;
      c -= factor[r + k]! * known;
      d -= factor[s + k]! * known;
    }
    a /= factor[p + i]!;
    b = (b - factor[q + i]! * a) / factor[q + i + 1]!;
    c = (c - factor[r + i]! * a - factor[r + i + 1]! * b) / factor[r + i + 2]!;
    d = d - factor[s + i]! * a - factor[s + i + 1]! * b - factor[s + i + 2]! * c;
    y[i] = a;
    y[i + 1] = b;
    y[i + 2] = c;
    y[i + 3] = d / factor[s + i + 3]!;
  }
  for (; i < m; i++) {
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
