/**
 * Solves a dense system of order n by elimination with partial pivoting. `matrix` (n × n, row by
 * row) and `rhs` are overwritten; `rhs` becomes the solution.
 */
export function solveDense(matrix: Float64Array, rhs: Float64Array): void {
  const n = rhs.length;
  for (let k = 0; k < n; k++) {
    swapRows(matrix, rhs, pivotRow(matrix, n, k), k);
    eliminate(matrix, rhs, k);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = rhs[i]!;
    for (let j = i + 1; j < n; j++) sum -= matrix[i * n + j]! * rhs[j]!;
    rhs[i] = sum / matrix[i * n + i]!;
  }
}

function pivotRow(matrix: Float64Array, n: number, k: number): number {
  let best = k;
  for (let i = k + 1; i < n; i++) {
    if (Math.abs(matrix[i * n + k]!) > Math.abs(matrix[best * n + k]!)) best = i;
  }
  return best;
}

function swapRows(matrix: Float64Array, rhs: Float64Array, i: number, k: number): void {
  if (i === k) return;
  const n = rhs.length;
  for (let j = k; j < n; j++) {
    const kept = matrix[k * n + j]!;
    matrix[k * n + j] = matrix[i * n + j]!;
    matrix[i * n + j] = kept;
  }
  const kept = rhs[k]!;
  rhs[k] = rhs[i]!;
  rhs[i] = kept;
}

function eliminate(matrix: Float64Array, rhs: Float64Array, k: number): void {
  const n = rhs.length;
  for (let i = k + 1; i < n; i++) {
    const factor = matrix[i * n + k]! / matrix[k * n + k]!;
    if (factor === 0) continue;
    for (let j = k + 1; j < n; j++) {
      matrix[i * n + j] = matrix[i * n + j]! - factor * matrix[k * n + j]!;
    }
    rhs[i] = rhs[i]! - factor * rhs[k]!;
  }
}
