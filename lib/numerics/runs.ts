/** Neighbouring rows, the first and the last within. */
export interface RowRun {
  readonly first: number;
  readonly last: number;
}

/** The longest runs of rows whose values all pass a test, in order. */
export function runsWhere(
  values: Float64Array,
  test: (value: number) => boolean,
): readonly RowRun[] {
  const runs: { first: number; last: number }[] = [];
  for (const [row, value] of values.entries()) {
    if (!test(value)) continue;
    const open = runs.at(-1);
    if (open?.last === row - 1) open.last = row;
    else runs.push({ first: row, last: row });
  }
  return runs;
}
