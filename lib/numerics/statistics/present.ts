/** How many values are present (not NaN). */
export function presentCount(values: ArrayLike<number>): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i])) count++;
  return count;
}

/** The mean of the values that are present; NaN where none is. */
export function presentMean(values: ArrayLike<number>): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return sum / count;
}

/** The value; null where it is missing. */
export function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}

/** Least and greatest of the values that are there; NaN without any. */
export function extent(values: Iterable<number>): {
  readonly least: number;
  readonly most: number;
} {
  let [least, most] = [Number.NaN, Number.NaN];
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    if (!(value >= least)) least = value;
    if (!(value <= most)) most = value;
  }
  return { least, most };
}
