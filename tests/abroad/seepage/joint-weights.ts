import type { EvidenceName, EvidenceWeight } from "../lib.js";
import type { JudgedBank } from "./judged-bank.js";

/** Cells beside each other are one witness over about 20 m: each counts a quarter. */
const CELL_COUNTS = 0.25;
/** Prior variance of a slope is one over it. */
const RIDGE = 0.25;

/** Its absence says nothing: far from it, it fades into what is not known. */
const UNTOLD: EvidenceName = "recorded incident";

interface Cell {
  readonly isWeak: boolean;
  /** 1, then for each piece its value and whether it is known (0, 0 where not). */
  readonly x: readonly number[];
}

/**
 * Weights of all pieces at once by logistic regression of the truth on their values: a piece that
 * repeats what another says adds only what is left. Each piece's absent weight is such that it says
 * nothing on average where nothing is weak: the mean of its likelihood ratio there is one.
 */
export function jointWeights(
  banks: readonly JudgedBank[],
): ReadonlyMap<EvidenceName, EvidenceWeight> {
  const names = banks[0]!.seepage.pieces.map(({ name }) => name);
  const slopes = logistic(banks.flatMap(cellsOf), 1 + 2 * names.length);
  return new Map(
    names.map((name, k) => {
      const slope = slopes[1 + 2 * k]!;
      const ratios = banks.flatMap(({ seepage, truth }) =>
        Array.from(seepage.pieces[k]!.value).flatMap((value, i) =>
          truth[i] === 0 && !Number.isNaN(value) ? [Math.exp(slope * value)] : [],
        ),
      );
      const mean = ratios.reduce((sum, one) => sum + one, 0) / ratios.length;
      const absent = ratios.length > 0 && name !== UNTOLD ? -Math.log(mean) : 0;
      return [name, { present: slope + absent, absent }];
    }),
  );
}

function cellsOf({ seepage, truth }: JudgedBank): Cell[] {
  return Array.from(truth).flatMap((weak, i) => {
    if (Number.isNaN(weak)) return [];
    const x = seepage.pieces.flatMap(({ name, value }) =>
      Number.isNaN(value[i]!) ? [0, 0] : [value[i]!, name === UNTOLD ? 0 : 1],
    );
    return [{ isWeak: weak === 1, x: [1, ...x] }];
  });
}

/** Newton's steps to the penalised likelihood's maximum. */
function logistic(cells: readonly Cell[], size: number): Float64Array {
  const slopes = new Float64Array(size);
  for (let step = 0; step < 25; step++) {
    const matrix = Array.from({ length: size }, (_, j) => {
      const row = new Float64Array(size + 1);
      row[j] = j === 0 ? 1e-6 : RIDGE;
      row[size] = -row[j]! * slopes[j]!;
      return row;
    });
    for (const { isWeak, x } of cells) addCell(matrix, slopes, { isWeak, x });
    const moved = solved(matrix);
    for (const [j, by] of moved.entries()) slopes[j]! += by;
    if (Math.max(...moved.map(Math.abs)) < 1e-9) break;
  }
  return slopes;
}

function addCell(matrix: readonly Float64Array[], slopes: Float64Array, { isWeak, x }: Cell): void {
  const z = x.reduce((sum, value, j) => sum + value * slopes[j]!, 0);
  const p = 1 / (1 + Math.exp(-z));
  const size = slopes.length;
  for (const [j, one] of x.entries()) {
    if (one === 0) continue;
    const row = matrix[j]!;
    row[size]! += CELL_COUNTS * one * ((isWeak ? 1 : 0) - p);
    for (const [k, other] of x.entries()) row[k]! += CELL_COUNTS * p * (1 - p) * one * other;
  }
}

/** Gauss-Jordan with pivots; the right side stands in the last column. */
function solved(matrix: readonly Float64Array[]): Float64Array {
  const rows = [...matrix];
  const size = rows.length;
  for (let c = 0; c < size; c++) {
    const below = rows.slice(c).map((row) => Math.abs(row[c]!));
    const pivot = c + below.indexOf(Math.max(...below));
    [rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!];
    for (let r = 0; r < size; r++) {
      const factor = r === c ? 0 : rows[r]![c]! / rows[c]![c]!;
      if (factor !== 0) for (let k = c; k <= size; k++) rows[r]![k]! -= factor * rows[c]![k]!;
    }
  }
  return Float64Array.from(rows, (row, r) => row[size]! / row[r]!);
}
