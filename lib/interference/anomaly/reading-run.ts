/** Readings of a line from `first` to `last`, both included. */
export interface ReadingRun {
  readonly first: number;
  readonly last: number;
}

/** The run with the readings that lie within reach of its ends; chainages never fall. */
export function widened(chainage_m: Float64Array, run: ReadingRun, reach_m: number): ReadingRun {
  let { first, last } = run;
  const from_m = chainage_m[first]! - reach_m;
  const to_m = chainage_m[last]! + reach_m;
  while (first > 0 && chainage_m[first - 1]! >= from_m) first--;
  while (last + 1 < chainage_m.length && chainage_m[last + 1]! <= to_m) last++;
  return { first, last };
}

/** The runs among `count` readings in which all hold. */
export function runsWhere(count: number, holds: (i: number) => boolean): readonly ReadingRun[] {
  const runs: ReadingRun[] = [];
  for (let i = 0; i < count; i++) {
    const first = i;
    while (i < count && holds(i)) i++;
    if (i > first) runs.push({ first, last: i - 1 });
  }
  return runs;
}
