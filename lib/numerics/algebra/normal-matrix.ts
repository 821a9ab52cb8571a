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

function addFourRows(out: Float64Array, a: Float64Array, { k, m }: RowsAt): void {
  const [r0, r1, r2, r3] = [k * m, (k + 1) * m, (k + 2) * m, (k + 3) * m];
  for (let i = 0; i < m; i++) {
    const [a0, a1, a2, a3] = [a[r0 + i]!, a[r1 + i]!, a[r2 + i]!, a[r3 + i]!];
    const row = i * m;
    for (let j = 0; j <= i; j++) {
      const even = a0 * a[r0 + j]! + a1 * a[r1 + j]!;
      out[row + j] = out[row + j]! + even + (a2 * a[r2 + j]! + a3 * a[r3 + j]!);
    }
  }
}

function addRow(out: Float64Array, a: Float64Array, { k, m }: RowsAt): void {
  const at = k * m;
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) out[i * m + j] = out[i * m + j]! + a[at + i]! * a[at + j]!;
  }
}
