/**
 * V, r × m row by row, with Vᵀ V near a positive semidefinite m × m matrix: Cholesky's factor with
 * the greatest remaining diagonal entry as the next pivot, ended where all that remain, each times
 * its `scale`, are below `tolerance`. What is left is positive semidefinite with a diagonal below
 * that. `matrix` is left as it is.
 *
 * Source: Harbrecht, Peters & Schneider 2012, Applied Numerical Mathematics 62, 428–440.
 *
 * @example
 * pivotedCholesky(Float64Array.of(4, 2, 2, 1), { scale: Float64Array.of(1, 1), tolerance: 1e-9 });
 * // [2, 1]
 */
export function pivotedCholesky(
  matrix: Float64Array,
  { scale, tolerance }: { readonly scale: Float64Array; readonly tolerance: number },
): Float64Array {
  const m = scale.length;
  const left = Float64Array.from(scale, (_, i) => matrix[i * m + i]!);
  const rows: Float64Array[] = [];
  while (rows.length < m) {
    const pivot = greatest(left, scale);
    const rest = left[pivot]!;
    if (!(rest * scale[pivot]! > tolerance)) break;
    const row = matrix.slice(pivot * m, (pivot + 1) * m);
    for (const before of rows) {
      const share = before[pivot]!;
      if (share === 0) continue;
      for (let i = 0; i < m; i++) row[i] = row[i]! - share * before[i]!;
    }
    const root = Math.sqrt(rest);
    for (let i = 0; i < m; i++) {
      row[i] = row[i]! / root;
      left[i] = left[i]! - row[i]! ** 2;
    }
    left[pivot] = 0;
    rows.push(row);
  }
  const out = new Float64Array(rows.length * m);
  for (const [at, row] of rows.entries()) out.set(row, at * m);
  return out;
}

function greatest(left: Float64Array, scale: Float64Array): number {
  let at = 0;
  for (let i = 1; i < left.length; i++) {
    if (left[i]! * scale[i]! > left[at]! * scale[at]!) at = i;
  }
  return at;
}
