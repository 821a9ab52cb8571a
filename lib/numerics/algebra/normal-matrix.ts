/**
 * Aᵀ A of an n × m matrix, row by row, as m × m; the lower triangle is worked out and mirrored.
 *
 * @example normalMatrix(Float64Array.of(1, 2, 3, 4), 2); // [10, 14, 14, 20]
 */
export function normalMatrix(matrix: Float64Array, m: number): Float64Array {
  const n = matrix.length / m;
  const out = new Float64Array(m * m);
  let k = 0;
  for (; k + 3 < n; k += 4) addFourRows(out, matrix, { k, m });
  for (; k < n; k++) addRow(out, matrix, { k, m });
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) out[j * m + i] = out[i * m + j]!;
  }
  return out;
}

interface RowsAt {
  readonly k: number;
  readonly m: number;
}

/** Two rows of the product a pass, so that each entry that is read serves both. */
function addFourRows(out: Float64Array, a: Float64Array, { k, m }: RowsAt): void {
  const [r0, r1, r2, r3] = [k * m, (k + 1) * m, (k + 2) * m, (k + 3) * m];
  for (let i = 0; i < m; i += 2) {
    const other = Math.min(i + 1, m - 1);
    const [p0, p1, p2, p3] = [a[r0 + i]!, a[r1 + i]!, a[r2 + i]!, a[r3 + i]!];
    const [q0, q1, q2, q3] = [a[r0 + other]!, a[r1 + other]!, a[r2 + other]!, a[r3 + other]!];
    const [one, two] = [i * m, (i + 1) * m];
    for (let j = 0; j <= i; j++) {
      const [a0, a1, a2, a3] = [a[r0 + j]!, a[r1 + j]!, a[r2 + j]!, a[r3 + j]!];
      out[one + j] = out[one + j]! + p0 * a0 + p1 * a1 + (p2 * a2 + p3 * a3);
      // Past the last row for an odd m: writing there is without effect.
      out[two + j] = out[two + j]! + q0 * a0 + q1 * a1 + (q2 * a2 + q3 * a3);
    }
    if (other > i) out[two + other] = out[two + other]! + q0 * q0 + q1 * q1 + (q2 * q2 + q3 * q3);
  }
}

function addRow(out: Float64Array, a: Float64Array, { k, m }: RowsAt): void {
  const at = k * m;
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) out[i * m + j] = out[i * m + j]! + a[at + i]! * a[at + j]!;
  }
}
