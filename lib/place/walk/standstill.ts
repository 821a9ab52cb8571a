import { valueAt } from "../../numerics/arrays.js";
import { type RowRun, runsWhere } from "../../numerics/runs.js";

/** Slower than this is standing, m/s; for at least so long, s, and so many readings. */
const STANDING = Object.freeze({ speed_m_per_s: 0.25, least_s: 4, least: 4 });
/** Readings this far apart in time are not made one: the instrument drifts. */
const AVERAGED_S = 20;

/** The runs of rows whose speed shows that the walker stood still; n speeds, NaN where unknown. */
export function standstills(speed_m_per_s: Float64Array, clock_s: Float64Array): readonly RowRun[] {
  const slow = runsWhere(speed_m_per_s, (speed) => speed < STANDING.speed_m_per_s);
  return slow.filter(({ first, last }) => {
    const isLong = valueAt(clock_s, last) - valueAt(clock_s, first) >= STANDING.least_s;
    return isLong && last - first + 1 >= STANDING.least;
  });
}

/** Cuts a standstill into pieces of at most 20 s, each of which becomes one reading. */
export function piecesOfStandstill(
  { first, last }: RowRun,
  clock_s: Float64Array,
): readonly RowRun[] {
  const pieces: RowRun[] = [];
  let start = first;
  for (let i = first + 1; i <= last + 1; i++) {
    if (i <= last && valueAt(clock_s, i) - valueAt(clock_s, start) <= AVERAGED_S) continue;
    pieces.push({ first: start, last: i - 1 });
    start = i;
  }
  return pieces;
}
