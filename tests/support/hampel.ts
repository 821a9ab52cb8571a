// The plain robust outlier filter, as a yardstick. Hampel 1974, Journal of the American Statistical
// Association 69, 383–393: a value is an outlier where it lies more than 3 × 1.4826 × MAD from the
// median of its window.
import { madScale, median } from "../../lib/numerics/statistics/robust.js";

/** n entries: 1 where the filter takes the value for an outlier; windows of `reach_m` each way. */
export function hampel(
  chainage_m: Float64Array,
  values: Float64Array,
  reach_m: number,
): Uint8Array {
  const outlier = new Uint8Array(values.length);
  let [first, last] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    while (chainage_m[first]! < chainage_m[i]! - reach_m) first++;
    while (last < values.length && chainage_m[last]! <= chainage_m[i]! + reach_m) last++;
    const window = values.subarray(first, last);
    if (Math.abs(values[i]! - median(window)) > 3 * madScale(window)) outlier[i] = 1;
  }
  return outlier;
}
