import { firstOf } from "../../numerics/arrays.js";

/** Mean about the first value, as times since 1970 are large beside their differences. */
export function meanOf(values: readonly number[]): number {
  const origin = firstOf(values);
  return origin + values.reduce((sum, value) => sum + value - origin, 0) / values.length;
}
