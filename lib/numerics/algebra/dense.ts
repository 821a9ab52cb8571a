import {
  CholeskyDecomposition,
  EigenvalueDecomposition,
  Matrix,
  SingularValueDecomposition,
} from "ml-matrix";

/** Eigenvalues, falling, and orthonormal eigenvectors of a symmetric matrix. */
export interface SymmetricEigen {
  readonly value: Float64Array;
  /** m × m row by row: column k belongs to value k. */
  readonly vector: Float64Array;
}

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix, m × m row by row, to working precision.
 * The matrix is left as it is; only its lower triangle is read. Throws a RangeError where an entry
 * is not finite.
 *
 * @example symmetricEigen(Float64Array.of(2, 1, 1, 2), 2).value; // [3, 1]
 */
export function symmetricEigen(matrix: Float64Array, m: number): SymmetricEigen {
  const { realEigenvalues, eigenvectorMatrix } = eigenOf(fromLower(matrix, m));
  return {
    value: Float64Array.from(realEigenvalues).reverse(),
    vector: Float64Array.from(eigenvectorMatrix.flipRows().to1DArray()),
  };
}

/**
 * x that makes |A x − right| least, the shortest of them, by singular values. A is n × m, row by
 * row, n ≥ m. Throws a RangeError where the sizes do not fit.
 *
 * @example leastSquares(Float64Array.of(1, 0, 0, 1, 1, 1), Float64Array.of(1, 2, 3)); // [1, 2]
 */
export function leastSquares(matrix: Float64Array, right: Float64Array): Float64Array {
  const n = right.length;
  const m = matrix.length / n;
  if (!(Number.isInteger(m) && m > 0 && n >= m)) {
    throw new RangeError(`${matrix.length} entries do not make ${n} rows of ${n} or fewer`);
  }
  const rows = Matrix.from1DArray(n, m, matrix);
  const svd = new SingularValueDecomposition(rows, { autoTranspose: false });
  return Float64Array.from(svd.solve(Matrix.columnVector(right)).to1DArray());
}

/** Solutions with a symmetric positive definite matrix A. */
export interface PositiveDefinite {
  /** Greatest over smallest eigenvalue of A scaled to a diagonal of 1: units do not count. */
  readonly condition: number;
  /** ln det A. */
  readonly logDeterminant: number;
  /** x of A x = right, as a new vector of length m. */
  readonly solve: (right: Float64Array) => Float64Array;
  /** The m diagonal entries of A⁻¹: the variances where A is a precision matrix. */
  readonly inverseDiagonal: () => Float64Array;
}

/** A condition number above it leaves a solution less than three digits. */
const WORST_CONDITION = 1e13;

/**
 * Solutions with a small symmetric positive definite matrix, m × m row by row, by Cholesky's
 * factor of the scaled matrix; for inner loops there is `choleskyFactor`. The matrix is left as it
 * is; only its lower triangle is read. Throws a RangeError where an entry is not finite, the matrix
 * is not positive definite or its condition number is above 1e13.
 *
 * @example
 * positiveDefinite(Float64Array.of(4, 2, 2, 5), 2).solve(Float64Array.of(8, 12)); // [1, 2]
 */
export function positiveDefinite(matrix: Float64Array, m: number): PositiveDefinite {
  const full = fromLower(matrix, m);
  const scale = full.diagonal().map(Math.sqrt);
  // Products of two scales are the same either way: what is symmetric stays so to the last digit.
  const scaled = full.div(Matrix.columnVector(scale).mmul(Matrix.rowVector(scale)));
  const condition = checkedCondition(scaled);
  const factor = new CholeskyDecomposition(scaled);
  const solve = (columns: Matrix) =>
    factor.solve(columns.divColumnVector(scale)).divColumnVector(scale);
  const roots = factor.lowerTriangularMatrix.diagonal();
  return {
    condition,
    logDeterminant: roots.reduce((sum, root, i) => sum + 2 * Math.log(root * scale[i]!), 0),
    solve: (right) => Float64Array.from(solve(Matrix.columnVector(right)).to1DArray()),
    inverseDiagonal: () => Float64Array.from(solve(Matrix.eye(m)).diagonal()),
  };
}

/** NaN stands in the scaled matrix where a diagonal entry is 0 or below. */
function checkedCondition(scaled: Matrix): number {
  const isScaled = scaled.diagonal().every(Number.isFinite);
  const values = isScaled ? eigenOf(scaled).realEigenvalues : [0];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (least > 0 && most / least <= WORST_CONDITION) return most / least;
  throw new RangeError(
    `the matrix is not positive definite to working precision: scaled to a diagonal of 1, its ` +
      `eigenvalues run from ${least.toPrecision(3)} to ${most.toPrecision(3)}`,
  );
}

function eigenOf(symmetric: Matrix): EigenvalueDecomposition {
  return new EigenvalueDecomposition(symmetric, { assumeSymmetric: true });
}

function fromLower(matrix: Float64Array, m: number): Matrix {
  const full = new Matrix(m, m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const entry = matrix[i * m + j] ?? Number.NaN;
      if (!Number.isFinite(entry)) throw new RangeError(`entry ${i}, ${j} is ${entry}`);
      full.set(i, j, entry).set(j, i, entry);
    }
  }
  return full;
}
