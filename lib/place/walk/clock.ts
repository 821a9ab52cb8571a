import { neighbours, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";

/** From this share of rows with the time of the row before on, times are coarser than readings. */
const COARSE_SHARE = 0.3;

/**
 * Times of the rows with those that are missing filled in: evenly by row between the neighbours
 * that have one. NaN before the first time and after the last. Where a clock that shows whole seconds
 * or minutes gives many rows one time, they follow each other evenly until the next.
 */
export function clockOf(time_s: Float64Array): Float64Array {
  const clock = evenWithin(time_s);
  let [last, last_s] = [-1, Number.NaN];
  for (const [i, here_s] of clock.slice().entries()) {
    if (Number.isNaN(here_s)) continue;
    for (let k = last + 1; last >= 0 && k < i; k++) {
      clock[k] = last_s + ((here_s - last_s) * (k - last)) / (i - last);
    }
    [last, last_s] = [i, here_s];
  }
  return clock;
}

/** Rows that share a time, in file order. */
interface SharedTime {
  readonly time_s: number;
  readonly rows: readonly number[];
}

/**
 * The times, where many rows share theirs spread over the time until the next: the first ones end
 * there, as a walk may begin within a minute, and none take longer than a reading usually does.
 */
function evenWithin(time_s: Float64Array): Float64Array {
  const clock = Float64Array.from(time_s);
  const runs = sharedTimes(time_s);
  const timed = runs.reduce((sum, { rows }) => sum + rows.length, 0);
  if (!(timed - runs.length >= COARSE_SHARE * timed)) return clock;
  const inner = neighbours(runs).slice(1);
  const step_s = median(inner.map(([one, next]) => (next.time_s - one.time_s) / one.rows.length));
  if (!(step_s > 0)) return clock;
  for (const [r, { time_s: from_s, rows }] of runs.entries()) {
    const next_s = runs[r + 1]?.time_s ?? Number.POSITIVE_INFINITY;
    const length_s = Math.min(next_s - from_s, step_s * rows.length);
    const start_s = r === 0 && Number.isFinite(next_s) ? next_s - length_s : from_s;
    for (const [k, row] of rows.entries()) clock[row] = start_s + (length_s * k) / rows.length;
  }
  return clock;
}

function sharedTimes(time_s: Float64Array): readonly SharedTime[] {
  const runs: { time_s: number; rows: number[] }[] = [];
  for (const row of time_s.keys()) {
    const here_s = valueAt(time_s, row);
    if (Number.isNaN(here_s)) continue;
    const open = runs.at(-1);
    if (open?.time_s === here_s) open.rows.push(row);
    else runs.push({ time_s: here_s, rows: [row] });
  }
  return runs;
}
