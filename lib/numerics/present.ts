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
