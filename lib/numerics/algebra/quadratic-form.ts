/** wᵀ M w of an m × m matrix, row by row, and m weights; rows of weight 0 are passed over. */
export function quadraticForm(matrix: Float64Array, w: Float64Array): number {
  const m = w.length;
  let sum = 0;
  for (let i = 0; i < m; i++) {
    if (w[i] === 0) continue;
    for (let j = 0; j < m; j++) sum += w[i]! * w[j]! * matrix[i * m + j]!;
  }
  return sum;
}
