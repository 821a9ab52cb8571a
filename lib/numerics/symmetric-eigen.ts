/** Eigenvalues, falling, and orthonormal eigenvectors of a symmetric matrix. */
export interface SymmetricEigen {
  readonly value: Float64Array;
  /** m × m row by row: column k belongs to value k. */
  readonly vector: Float64Array;
}

const SWEEPS = 50;

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix, m × m row by row, by Jacobi's cyclic
 * rotations, to working precision. The matrix is left as it is; only its lower triangle is read.
 * Throws a RangeError where an entry is not finite.
 *
 * Source: Golub & Van Loan 2013, Matrix Computations, section 8.5.
 *
 * @example symmetricEigen(Float64Array.of(2, 1, 1, 2), 2).value; // [3, 1]
 */
export function symmetricEigen(matrix: Float64Array, m: number): SymmetricEigen {
  const a = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const entry = matrix[i * m + j]!;
      if (!Number.isFinite(entry)) throw new RangeError(`entry ${i}, ${j} is ${entry}`);
      a[i * m + j] = entry;
      a[j * m + i] = entry;
    }
  }
  const vectors = new Float64Array(m * m);
  for (let i = 0; i < m; i++) vectors[i * m + i] = 1;
  for (let sweep = 0; sweep < SWEEPS && offDiagonal(a, m) > 0; sweep++) {
    for (let p = 0; p < m; p++) for (let q = p + 1; q < m; q++) rotate(a, vectors, { m, p, q });
  }
  return sorted(a, vectors, m);
}

/** The sum of squares off the diagonal, 0 where it is below the last digit. */
function offDiagonal(a: Float64Array, m: number): number {
  let off = 0;
  let on = 0;
  for (let i = 0; i < m; i++) {
    on += a[i * m + i]! ** 2;
    for (let j = 0; j < i; j++) off += a[i * m + j]! ** 2;
  }
  return off > 1e-30 * on ? off : 0;
}

function rotate(
  a: Float64Array,
  vectors: Float64Array,
  { m, p, q }: { readonly m: number; readonly p: number; readonly q: number },
): void {
  const apq = a[p * m + q]!;
  if (apq === 0) return;
  const theta = (a[q * m + q]! - a[p * m + p]!) / (2 * apq);
  const tangent = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(1 + theta * theta));
  const cosine = 1 / Math.sqrt(1 + tangent * tangent);
  const sine = tangent * cosine;
  for (let i = 0; i < m; i++) turn(a, i * m + p, i * m + q, [cosine, sine]);
  for (let i = 0; i < m; i++) turn(a, p * m + i, q * m + i, [cosine, sine]);
  for (let i = 0; i < m; i++) turn(vectors, i * m + p, i * m + q, [cosine, sine]);
}

function turn(of: Float64Array, at: number, other: number, [c, s]: [number, number]): void {
  const [here, there] = [of[at]!, of[other]!];
  of[at] = c * here - s * there;
  of[other] = s * here + c * there;
}

function sorted(a: Float64Array, vectors: Float64Array, m: number): SymmetricEigen {
  const order = Array.from({ length: m }, (_, k) => k);
  order.sort((k, l) => a[l * m + l]! - a[k * m + k]!);
  return {
    value: Float64Array.from(order, (k) => a[k * m + k]!),
    vector: Float64Array.from(
      { length: m * m },
      (_, at) => vectors[Math.floor(at / m) * m + order[at % m]!]!,
    ),
  };
}
