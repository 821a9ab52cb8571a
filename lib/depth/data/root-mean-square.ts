/** Root mean square of what is not NaN; NaN where nothing is. */
export function rootMeanSquare(values: ArrayLike<number>): number {
  const present = Array.from(values).filter((value) => !Number.isNaN(value));
  return Math.sqrt(present.reduce((sum, value) => sum + value * value, 0) / present.length);
}
