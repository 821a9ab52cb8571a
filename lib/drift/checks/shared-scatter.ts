import { choleskyFactor, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { itemAt } from "../../numerics/arrays.js";
import { madScale } from "../../numerics/statistics/robust.js";

/** Beyond so many scales a row is disturbed, and does not tell how channels go together. */
const DISTURBED = 6;
/** Fewer rows for each channel do not tell how they go together. */
const ROWS_PER_CHANNEL = 10;
/** Added to the correlations' diagonal, as two channels may be the same. */
const RIDGE = 1e-6;

/**
 * c columns of n deviations without what linear regression tells of each from the others; a row in
 * which a channel is missing is NaN in all. Columns that are mostly missing, or do not vary, stay.
 */
export function withoutShared(columns: readonly Float64Array[]): readonly Float64Array[] {
  const used = columns.filter((column) => madScale(column) > 0 && isMostlyThere(column));
  const scale = used.map(madScale);
  const n = used[0]?.length ?? 0;
  const rows = Array.from({ length: n }, (_, i) =>
    Float64Array.from(used, (column, c) => itemAt(column, i) / itemAt(scale, c)),
  );
  const quiet = rows.filter((row) => row.every((one) => Math.abs(one) <= DISTURBED));
  if (used.length < 2 || quiet.length < ROWS_PER_CHANNEL * used.length) return columns;
  const precision = inverse(meanProducts(quiet), used.length);
  const found = new Map(
    used.map((column, c) => [column, residualOf(c, rows, { precision, scale })]),
  );
  return columns.map((column) => found.get(column) ?? column);
}

function isMostlyThere(column: Float64Array): boolean {
  return column.filter((value) => !Number.isNaN(value)).length > column.length / 2;
}

function meanProducts(rows: readonly Float64Array[]): Float64Array {
  const m = rows[0]?.length ?? 0;
  const sum = new Float64Array(m * m);
  for (const row of rows) {
    for (let c = 0; c < m; c++) {
      for (let d = 0; d < m; d++) sum[c * m + d]! += (row[c]! * row[d]!) / rows.length;
    }
  }
  for (let c = 0; c < m; c++) sum[c * m + c]! *= 1 + RIDGE;
  return sum;
}

function inverse(matrix: Float64Array, m: number): readonly Float64Array[] {
  const root = choleskyFactor(matrix, m);
  return Array.from({ length: m }, (_, c) => {
    const unit = new Float64Array(m);
    unit[c] = 1;
    return choleskySolve(root, m, unit);
  });
}

interface Regression {
  readonly precision: readonly Float64Array[];
  readonly scale: readonly number[];
}

/** The residual of one variable on all others is its row of the precision matrix. */
function residualOf(
  c: number,
  rows: readonly Float64Array[],
  { precision, scale }: Regression,
): Float64Array {
  const weights = itemAt(precision, c);
  const factor = itemAt(scale, c) / itemAt(weights, c);
  return Float64Array.from(
    rows,
    (row) => factor * row.reduce((s, one, d) => s + one * weights[d]!, 0),
  );
}
