/**
 * Aᵀ A of an n × m matrix, row by row, as m × m; the lower triangle is worked out and mirrored.
 *
 * @example normalMatrix(Float64Array.of(1, 2, 3, 4), 2); // [10, 14, 14, 20]
 */
export function normalMatrix(matrix: Float64Array, m: number): Float64Array {
  const out = new Float64Array(m * m);
  const even = m - (m % 2);
  for (let i = 0; i < even; i += 2) {
    for (let j = 0; j <= i; j += 2) addTile(out, matrix, { i, j, m });
  }
  if (even < m) for (let j = 0; j < m; j++) addEntry(out, matrix, { i: even, j, m });
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) out[j * m + i] = out[i * m + j]!;
  }
  return out;
}

interface EntryAt {
  readonly i: number;
  readonly j: number;
  readonly m: number;
}

/** Two rows by two columns of the product in registers, four rows of A a pass. */
function addTile(out: Float64Array, a: Float64Array, { i, j, m }: EntryAt): void {
  let c00 = 0;
  let c01 = 0;
  let c10 = 0;
  let c11 = 0;
  let p = i;
  let q = j;
  const last = a.length - 3 * m;
  for (; p < last; p += 4 * m, q += 4 * m) {
    const x0 = a[p]!;
    const x1 = a[p + m]!;
    const x2 = a[p + 2 * m]!;
    const x3 = a[p + 3 * m]!;
    const u0 = a[p + 1]!;
    const u1 = a[p + m + 1]!;
    const u2 = a[p + 2 * m + 1]!;
    const u3 = a[p + 3 * m + 1]!;
    const y0 = a[q]!;
    const y1 = a[q + m]!;
    const y2 = a[q + 2 * m]!;
    const y3 = a[q + 3 * m]!;
    const v0 = a[q + 1]!;
    const v1 = a[q + m + 1]!;
    const v2 = a[q + 2 * m + 1]!;
    const v3 = a[q + 3 * m + 1]!;
    c00 = c00 + x0 * y0 + x1 * y1 + (x2 * y2 + x3 * y3);
    c01 = c01 + x0 * v0 + x1 * v1 + (x2 * v2 + x3 * v3);
    c10 = c10 + u0 * y0 + u1 * y1 + (u2 * y2 + u3 * y3);
    c11 = c11 + u0 * v0 + u1 * v1 + (u2 * v2 + u3 * v3);
  }
  for (; p < a.length; p += m, q += m) {
    c00 += a[p]! * a[q]!;
    c01 += a[p]! * a[q + 1]!;
    c10 += a[p + 1]! * a[q]!;
    c11 += a[p + 1]! * a[q + 1]!;
  }
  out[i * m + j] = c00;
  out[i * m + j + 1] = c01;
  out[(i + 1) * m + j] = c10;
  out[(i + 1) * m + j + 1] = c11;
}

function addEntry(out: Float64Array, a: Float64Array, { i, j, m }: EntryAt): void {
  let sum = 0;
  let row = 0;
  for (; row < a.length - 3 * m; row += 4 * m) {
    const term = (k: number) => a[row + k * m + i]! * a[row + k * m + j]!;
    sum = sum + term(0) + term(1) + (term(2) + term(3));
  }
  for (; row < a.length; row += m) sum += a[row + i]! * a[row + j]!;
  out[i * m + j] = sum;
}
