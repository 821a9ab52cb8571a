/** A number in words with `digits` significant digits, never as a power of ten: "27.4", "1,500". */
export function significantText(value: number, digits = 3): string {
  const rounded = Number(value.toPrecision(digits));
  return Math.abs(rounded) >= 10 ** digits
    ? rounded.toLocaleString("en")
    : rounded.toPrecision(digits);
}
