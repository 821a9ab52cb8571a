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
 * that the inner loop runs along the right-hand sides. `starts`, rising, says of each of them the
 * row above which it is 0; default 0.
 */
export function solveBanded(
  factor: BandMatrix,
  columns: Float64Array,
  { m, starts = new Int32Array(m) }: { readonly m: number; readonly starts?: Int32Array },
): void {
  solveLower(factor, columns, starts);
  solveUpper(factor, columns, m);
}

/** L y = right, in place, of columns that begin at the rows `starts`, rising. */
export function solveLower(
  { size, halfBandwidth: b, lower }: BandMatrix,
  x: Float64Array,
  starts: Int32Array,
): void {
  const m = starts.length;
  let width = 0;
  for (let i = 0; i < size; i++) {
    while (width < m && starts[width]! <= i) width++;
    const row = i * (b + 1) + b - i;
    const first = Math.max(0, i - b);
    subtractRows(x, [m, width], {
      to: i,
      first,
      end: i,
      coefficients: lower,
      start: row + first,
      stride: 1,
    });
    divideRow(x, i * m, [lower[row + i]!, width]);
  }
}

/** Lᵀ x = y, in place, of m columns. */
export function solveUpper(
  { size, halfBandwidth: b, lower }: BandMatrix,
  x: Float64Array,
  m: number,
): void {
  for (let i = size - 1; i >= 0; i--) {
    const start = (i + 1) * (b + 1) + b - 1;
    const end = Math.min(size, i + b + 1);
    subtractRows(x, [m, m], { to: i, first: i + 1, end, coefficients: lower, start, stride: b });
    divideRow(x, i * m, [lower[i * (b + 1) + b]!, m]);
  }
}

/** L x in place of x, of m columns. */
export function multiplyLower(
  { size, halfBandwidth: b, lower }: BandMatrix,
  x: Float64Array,
  m: number,
): void {
  for (let i = size - 1; i >= 0; i--) {
    const row = i * (b + 1) + b - i;
    for (let r = 0; r < m; r++) x[i * m + r] = x[i * m + r]! * lower[row + i]!;
    for (let j = Math.max(0, i - b); j < i; j++) {
      const share = lower[row + j]!;
      for (let r = 0; r < m; r++) x[i * m + r] = x[i * m + r]! + share * x[j * m + r]!;
    }
  }
}

interface RowSum {
  readonly to: number;
  readonly first: number;
  readonly end: number;
  readonly coefficients: Float64Array;
  readonly start: number;
  readonly stride: number;
}

/**
 * Row `to` less the sum of coefficient × row over the rows first … end − 1, four rows a pass; rows
 * lie m apart, and their first `width` entries count.
 */
function subtractRows(x: Float64Array, [m, width]: readonly [number, number], sum: RowSum): void {
  const { to, first, end, coefficients, start, stride } = sum;
  const target = to * m;
  let j = first;
  let at = start;
  for (; j + 3 < end; j += 4, at += 4 * stride) {
    const c0 = coefficients[at]!;
    const c1 = coefficients[at + stride]!;
    const c2 = coefficients[at + 2 * stride]!;
    const c3 = coefficients[at + 3 * stride]!;
    const p = j * m;
    for (let r = 0; r < width; r++) {
      const upper = c0 * x[p + r]! + c1 * x[p + m + r]!;
      const lower = c2 * x[p + 2 * m + r]! + c3 * x[p + 3 * m + r]!;
      x[target + r] = x[target + r]! - upper - lower;
    }
  }
  for (; j < end; j++, at += stride) {
    const c = coefficients[at]!;
    for (let r = 0; r < width; r++) x[target + r] = x[target + r]! - c * x[j * m + r]!;
  }
}

function divideRow(x: Float64Array, at: number, [by, m]: readonly [number, number]): void {
  for (let r = 0; r < m; r++) x[at + r] = x[at + r]! / by;
}
