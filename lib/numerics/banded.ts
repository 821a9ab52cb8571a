/** A symmetric band matrix by its lower band, row by row. */
export interface BandMatrix {
  /** Order, n. */
  readonly size: number;
  /** Diagonals below the main one, b. */
  readonly halfBandwidth: number;
  /** n × (b + 1): entry (i, j), i − b ≤ j ≤ i, stands at i (b + 1) + j − i + b. */
  readonly lower: Float64Array;
}

export function bandMatrix(size: number, halfBandwidth: number): BandMatrix {
  return { size, halfBandwidth, lower: new Float64Array(size * (halfBandwidth + 1)) };
}

/**
 * Factors a symmetric positive definite band matrix in place into L Lᵀ; the matrix then holds L.
 * Throws a plain Error where a pivot is not positive: the matrix is not positive definite.
 */
export function factorBanded(matrix: BandMatrix): void {
  const { size, halfBandwidth: b, lower } = matrix;
  for (let i = 0; i < size; i++) {
    const rowI = i * (b + 1) + b - i;
    const first = Math.max(0, i - b);
    for (let j = first; j < i; j++) {
      const rowJ = j * (b + 1) + b - j;
      const rest = lower[rowI + j]! - dotRows(lower, { rowI, rowJ, from: first, to: j });
      lower[rowI + j] = rest / lower[rowJ + j]!;
    }
    const pivot = lower[rowI + i]! - dotRows(lower, { rowI, rowJ: rowI, from: first, to: i });
    if (!(pivot > 0))
      throw new Error(`factorBanded: the matrix is not positive definite (row ${i})`);
    lower[rowI + i] = Math.sqrt(pivot);
  }
}

interface RowPair {
  readonly rowI: number;
  readonly rowJ: number;
  readonly from: number;
  readonly to: number;
}

function dotRows(lower: Float64Array, { rowI, rowJ, from, to }: RowPair): number {
  let even = 0;
  let odd = 0;
  let t = from;
  for (; t + 1 < to; t += 2) {
    even += lower[rowI + t]! * lower[rowJ + t]!;
    odd += lower[rowI + t + 1]! * lower[rowJ + t + 1]!;
  }
  if (t < to) even += lower[rowI + t]! * lower[rowJ + t]!;
  return even + odd;
}

/**
 * Solves for several right-hand sides at once, in place. `columns` is n × m, row by unknown, so
 * that the inner loop runs along the right-hand sides.
 */
export function solveBanded(factor: BandMatrix, columns: Float64Array, m: number): void {
  forward(factor, columns, m);
  backward(factor, columns, m);
}

function forward({ size, halfBandwidth: b, lower }: BandMatrix, x: Float64Array, m: number): void {
  for (let i = 0; i < size; i++) {
    const row = i * (b + 1) + b - i;
    for (let j = Math.max(0, i - b); j < i; j++) subtractRow(x, lower[row + j]!, i * m, j * m, m);
    scaleRow(x, 1 / lower[row + i]!, i * m, m);
  }
}

function backward({ size, halfBandwidth: b, lower }: BandMatrix, x: Float64Array, m: number): void {
  for (let i = size - 1; i >= 0; i--) {
    const row = i * (b + 1) + b - i;
    scaleRow(x, 1 / lower[row + i]!, i * m, m);
    for (let j = Math.max(0, i - b); j < i; j++) subtractRow(x, lower[row + j]!, j * m, i * m, m);
  }
}

function subtractRow(x: Float64Array, factor: number, to: number, from: number, m: number): void {
  if (factor === 0) return;
  for (let r = 0; r < m; r++) x[to + r] = x[to + r]! - factor * x[from + r]!;
}

function scaleRow(x: Float64Array, factor: number, at: number, m: number): void {
  for (let r = 0; r < m; r++) x[at + r] = x[at + r]! * factor;
}
