/** Rows of `left` (c × m) times a lower factor (m × m), each row over its noise. */
export function whitenedRows(
  left: Float64Array,
  factor: Float64Array,
  noise: ArrayLike<number>,
): Float64Array {
  const c = noise.length;
  const m = left.length / c;
  const out = new Float64Array(c * m);
  for (let row = 0; row < c; row++) {
    for (let j = 0; j < m; j++) {
      let sum = 0;
      for (let i = j; i < m; i++) sum += left[row * m + i]! * factor[i * m + j]!;
      out[row * m + j] = sum / noise[row]!;
    }
  }
  return out;
}
