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
  const kernels = vectorKernels();
  const { size, halfBandwidth, lower } = matrix;
  const [own] = kernels.columns(lower.length) as readonly [Float64Array];
  own.set(lower);
  const failed = kernels.run.factorBand(own.byteOffset, size, halfBandwidth);
  if (failed >= 0) {
    throw new Error(`factorBanded: the matrix is not positive definite (row ${failed})`);
  }
  lower.set(own);
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
export function solveLower(factor: BandMatrix, x: Float64Array, starts: Int32Array): void {
  const { size, halfBandwidth: b } = factor;
  const solving = rowSolving(factor, x, starts.length);
  let width = 0;
  for (let i = 0; i < size; i++) {
    while (width < starts.length && starts[width]! <= i) width++;
    const row = i * (b + 1) + b - i;
    const first = Math.max(0, i - b);
    const sum = { to: i, first, end: i, start: row + first, stride: 1, pivot: row + i };
    solving.settle(sum, width);
  }
  solving.end();
}

/** Lᵀ x = y, in place, of m columns. */
export function solveUpper(factor: BandMatrix, x: Float64Array, m: number): void {
  const { size, halfBandwidth: b } = factor;
  const solving = rowSolving(factor, x, m);
  for (let i = size - 1; i >= 0; i--) {
    const start = (i + 1) * (b + 1) + b - 1;
    const end = Math.min(size, i + b + 1);
    const pivot = i * (b + 1) + b;
    solving.settle({ to: i, first: i + 1, end, start, stride: b, pivot }, m);
  }
  solving.end();
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
}

interface RowSolving {
  /** The row's first `width` entries in place; those beyond them, to the end of a pass, are 0. */
  readonly settle: (sum: RowSum, width: number) => void;
  /** Puts the solutions where the right-hand sides were. */
  readonly end: () => void;
}

/** From so many right-hand sides on, rows are worked out in pairs of doubles. */
const WIDE = 4;

function rowSolving(factor: BandMatrix, x: Float64Array, m: number): RowSolving {
  return m < WIDE ? narrowSolving(factor, x, m) : wideSolving(factor, x, m);
}

function wideSolving({ lower }: BandMatrix, x: Float64Array, m: number): RowSolving {
  const kernels = vectorKernels();
  const wide = passes(m);
  const lengths = [lower.length, (x.length / m) * wide];
  const [own, rows] = kernels.columns(...lengths) as readonly [Float64Array, Float64Array];
  own.set(lower);
  respaced(x, rows, [m, wide]);
  const row = 8 * wide;
  const at = (i: number) => rows.byteOffset + i * row;
  const settle = ({ to, first, end, start, stride, pivot }: RowSum, width: number) => {
    const coefficients = [own.byteOffset + 8 * start, 8 * stride, lower[pivot]!] as const;
    kernels.run.subtractRows(at(to), at(first), at(end), row, 8 * passes(width), ...coefficients);
  };
  return { settle, end: () => respaced(rows, x, [wide, m]) };
}

/** The same row by row, four rows a pass, with the same rounding. */
function narrowSolving({ lower }: BandMatrix, x: Float64Array, m: number): RowSolving {
  const settle = (sum: RowSum, width: number) => {
    const { to, first, end, start, stride, pivot } = sum;
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
  };
  return { settle, end: () => undefined };
}
