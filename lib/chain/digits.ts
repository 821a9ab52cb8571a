/** Four significant digits, as every number of the findings but chainages has. */
export function significant(value: number): number {
  return Number(value.toPrecision(4));
}

/** A chainage to 0.1 m. */
export function chainage(value_m: number): number {
  return Math.round(10 * value_m) / 10;
}
