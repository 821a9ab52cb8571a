/**
 * Times of the rows with those that are missing filled in: evenly by row between the neighbours
 * that have one. NaN before the first time and after the last.
 */
export function clockOf(time_s: Float64Array): Float64Array {
  const clock = Float64Array.from(time_s);
  let [last, last_s] = [-1, Number.NaN];
  for (const [i, here_s] of time_s.entries()) {
    if (Number.isNaN(here_s)) continue;
    for (let k = last + 1; last >= 0 && k < i; k++) {
      clock[k] = last_s + ((here_s - last_s) * (k - last)) / (i - last);
    }
    [last, last_s] = [i, here_s];
  }
  return clock;
}
