/**
 * Times of the rows with those that are missing filled in: evenly by row between the neighbours that
 * have one. NaN before the first time and after the last.
 */
export function clockOf(time_s: Float64Array): Float64Array {
  const clock = Float64Array.from(time_s);
  let last = -1;
  for (let i = 0; i < clock.length; i++) {
    if (Number.isNaN(time_s[i]!)) continue;
    for (let k = last + 1; last >= 0 && k < i; k++) {
      clock[k] = time_s[last]! + ((time_s[i]! - time_s[last]!) * (k - last)) / (i - last);
    }
    last = i;
  }
  return clock;
}
