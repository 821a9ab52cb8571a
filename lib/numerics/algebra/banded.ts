import { passes, respaced, vectorKernels } from "../wasm/kernels.js";

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
  const [own] = vectorKernels().columns(matrix.lower.length) as readonly [Float64Array];
  factorIn(own, matrix);
  matrix.lower.set(own);
}

/** The factor of a matrix in the kernels' memory. */
function factorIn(own: Float64Array, { size, halfBandwidth, lower }: BandMatrix): void {
  own.set(lower);
  const failed = vectorKernels().run.factorBand(own.byteOffset, size, halfBandwidth);
  if (failed >= 0) {
    throw new Error(`factorBanded: the matrix is not positive definite (row ${failed})`);
  }
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
  if (m >= WIDE) wideSolve(factor, columns, { starts, ways: BOTH });
  else {
    narrowLower(factor, columns, starts);
    narrowUpper(factor, columns, m);
  }
}

/** The same for a matrix that is not factored, which stays as it is. */
export function solveBandSystem(
  matrix: BandMatrix,
  columns: Float64Array,
  starts: Int32Array,
): void {
  wideSolve(matrix, columns, { starts, ways: BOTH, isFactored: false });
}

/** L y = right, in place, of columns that begin at the rows `starts`, rising. */
export function solveLower(factor: BandMatrix, x: Float64Array, starts: Int32Array): void {
  if (starts.length < WIDE) narrowLower(factor, x, starts);
  else wideSolve(factor, x, { starts, ways: ["solveBandLower"] });
}

/** Lᵀ x = y, in place, of m columns. */
export function solveUpper(factor: BandMatrix, x: Float64Array, m: number): void {
  if (m < WIDE) narrowUpper(factor, x, m);
  else wideSolve(factor, x, { starts: new Int32Array(m), ways: ["solveBandUpper"] });
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

/** Row `to` less a sum of coefficient × row over the rows first … end − 1, over the pivot. */
interface RowSum {
  readonly to: number;
  readonly first: number;
  readonly end: number;
  /** Places of the first coefficient and of the pivot in the factor, and from one to the next. */
  readonly start: number;
  readonly stride: number;
  readonly pivot: number;
  /** Columns, and how many of them have begun. */
  readonly m: number;
  readonly width: number;
}

/** From so many right-hand sides on, rows are worked out in pairs of doubles. */
const WIDE = 4;

const BOTH = ["solveBandLower", "solveBandUpper"] as const;

interface WideSolving {
  readonly starts: Int32Array;
  readonly ways: readonly (typeof BOTH)[number][];
  readonly isFactored?: boolean;
}

function wideSolve(
  matrix: BandMatrix,
  x: Float64Array,
  { starts, ways, isFactored = true }: WideSolving,
): void {
  const kernels = vectorKernels();
  const { size, halfBandwidth, lower } = matrix;
  const m = starts.length;
  const wide = passes(m);
  const [own, rows, room] = kernels.columns(lower.length, size * wide, wide / 2) as readonly [
    ...[Float64Array, Float64Array, Float64Array],
  ];
  if (isFactored) own.set(lower);
  else factorIn(own, matrix);
  respaced(x, rows, [m, wide]);
  new Int32Array(room.buffer, room.byteOffset, m).set(starts);
  const given = [own.byteOffset, rows.byteOffset, room.byteOffset] as const;
  for (const way of ways) kernels.run[way](...given, size, halfBandwidth, 8 * wide);
  respaced(rows, x, [wide, m]);
}

function narrowLower(factor: BandMatrix, x: Float64Array, starts: Int32Array): void {
  const { size, halfBandwidth: b } = factor;
  const m = starts.length;
  let width = 0;
  for (let i = 0; i < size; i++) {
    while (width < m && starts[width]! <= i) width++;
    const row = i * (b + 1) + b - i;
    const first = Math.max(0, i - b);
    const start = row + first;
    settle(factor, x, { to: i, first, end: i, start, stride: 1, pivot: row + i, m, width });
  }
}

function narrowUpper(factor: BandMatrix, x: Float64Array, m: number): void {
  const { size, halfBandwidth: b } = factor;
  for (let i = size - 1; i >= 0; i--) {
    const start = (i + 1) * (b + 1) + b - 1;
    const end = Math.min(size, i + b + 1);
    const pivot = i * (b + 1) + b;
    settle(factor, x, { to: i, first: i + 1, end, start, stride: b, pivot, m, width: m });
  }
}

/** The row's first `width` entries of m in place, four rows a pass, rounded as the kernels do. */
function settle({ lower }: BandMatrix, x: Float64Array, sum: RowSum): void {
  const { to, first, end, start, stride, pivot, m, width } = sum;
  const by = lower[pivot]!;
  for (let r = 0; r < width; r++) {
    let value = x[to * m + r]!;
    let [j, at] = [first, start];
    for (; j + 3 < end; j += 4, at += 4 * stride) {
      const p = j * m + r;
      const upper = lower[at]! * x[p]! + lower[at + stride]! * x[p + m]!;
      const third = lower[at + 2 * stride]! * x[p + 2 * m]!;
      value = value - upper - (third + lower[at + 3 * stride]! * x[p + 3 * m]!);
    }
    for (; j < end; j++, at += stride) value -= lower[at]! * x[j * m + r]!;
    x[to * m + r] = value / by;
  }
}
