import { vectorKernels } from "../wasm/kernels.js";

/**
 * V, m × r, with V Vᵀ near A Aᵀ of an m × n matrix A, row by row: Cholesky's factor with the
 * greatest remaining diagonal entry as the next pivot, ended where the trace of what is left is
 * below `leftTrace`; what is left is positive semidefinite. A Aᵀ itself is never formed.
 *
 * Source: Harbrecht, Peters & Schneider 2012, Applied Numerical Mathematics 62, 428–440.
 *
 * @example
 * pivotedCholesky(Float64Array.of(3, 4, 0, 5), { m: 2, leftTrace: 1e-9 }); // [5, 0, 4, 3]
 */
export function pivotedCholesky(
  matrix: Float64Array,
  { m, leftTrace }: { readonly m: number; readonly leftTrace: number },
): Float64Array {
  const n = matrix.length / m;
  const left = Float64Array.from({ length: m }, (_, i) => squaredLength(matrix, i * n, n));
  const products = rowsInMemory(matrix, n);
  const columns: Float64Array[] = [];
  while (columns.length < m && left.reduce((sum, value) => sum + value, 0) > leftTrace) {
    const pivot = greatest(left);
    const root = Math.sqrt(left[pivot]!);
    const column = products(pivot);
    subtractColumns(column, columns, pivot);
    for (let i = 0; i < m; i++) {
      column[i] = column[i]! / root;
      left[i] = Math.max(0, left[i]! - column[i]! ** 2);
    }
    left[pivot] = 0;
    columns.push(column);
  }
  return byRow(columns, m);
}

/** A column less the earlier ones times their entries at the pivot; four of them a pass. */
function subtractColumns(
  column: Float64Array,
  before: readonly Float64Array[],
  pivot: number,
): void {
  const none = new Float64Array(column.length);
  for (let k = 0; k < before.length; k += 4) {
    const a = before[k] ?? none;
    const b = before[k + 1] ?? none;
    const c = before[k + 2] ?? none;
    const d = before[k + 3] ?? none;
    const fa = a[pivot]!;
    const fb = b[pivot]!;
    const fc = c[pivot]!;
    const fd = d[pivot]!;
    for (let i = 0; i < column.length; i++) {
      column[i] = column[i]! - (fa * a[i]! + fb * b[i]! + (fc * c[i]! + fd * d[i]!));
    }
  }
}

function squaredLength(matrix: Float64Array, from: number, n: number): number {
  let sum = 0;
  for (let k = from; k < from + n; k++) sum += matrix[k]! ** 2;
  return sum;
}

function greatest(values: Float64Array): number {
  let at = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[at]!) at = i;
  return at;
}

/** The products of every row with one of them; the rows stand in the kernels' memory meanwhile. */
function rowsInMemory(matrix: Float64Array, n: number): (row: number) => Float64Array {
  const kernels = vectorKernels();
  const m = matrix.length / n;
  const [rows, out] = kernels.columns(matrix.length, m) as readonly [Float64Array, Float64Array];
  rows.set(matrix);
  return (row) => {
    const one = rows.byteOffset + 8 * n * row;
    kernels.run.rowProducts(out.byteOffset, one, rows.byteOffset, 8 * n, m, n);
    return out.slice();
  };
}

function byRow(columns: readonly Float64Array[], m: number): Float64Array {
  const r = columns.length;
  const out = new Float64Array(m * r);
  for (const [k, column] of columns.entries()) {
    for (let i = 0; i < m; i++) out[i * r + k] = column[i]!;
  }
  return out;
}
