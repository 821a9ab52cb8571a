import { dot } from "../../numerics/algebra/dot.js";

/**
 * Coherence of the readings of a window: the share of their squares that lies along one direction
 * of channel space. Metal moves neighbouring readings along one spectrum, larger or smaller, up or
 * down, so its share is near 1; a burst of noise moves each its own way.
 *
 * @param whitened - m vectors of c channels; 0 for missing channels.
 * @returns 1 / min(m, c) to 1; NaN where all is 0.
 */
export function coherenceOf(whitened: readonly Float64Array[]): number {
  const m = whitened.length;
  const gram = Float64Array.from(whitened.flatMap((one) => whitened.map((two) => dot(one, two))));
  const total = whitened.reduce((sum, one) => sum + dot(one, one), 0);
  return total > 0 ? largestEigenvalue(gram, m) / total : Number.NaN;
}

const ROUNDS = 60;

/** By powers of a symmetric matrix without negative eigenvalues; from its largest column on. */
function largestEigenvalue(matrix: Float64Array, m: number): number {
  let largest = 0;
  for (let i = 1; i < m; i++) {
    if (matrix[i * m + i]! > matrix[largest * m + largest]!) largest = i;
  }
  let vector = matrix.slice(largest * m, (largest + 1) * m);
  let value = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const length = Math.sqrt(dot(vector, vector));
    const unit = vector.map((one) => one / length);
    vector = unit.map((_, i) => dot(matrix.subarray(i * m, (i + 1) * m), unit));
    value = dot(unit, vector);
  }
  return value;
}
