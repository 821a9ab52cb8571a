/** A run of rows made within a step of each other while the walker stood. */
export interface Standstill {
  readonly first: number;
  readonly last: number;
}

/** Slower than this is standing, m/s; for at least so long, s, and so many readings. */
const STANDING = Object.freeze({ speed_m_per_s: 0.25, least_s: 4, least: 4 });
/** Readings this far apart in time are not made one: the instrument drifts. */
const AVERAGED_S = 20;

/** The runs of rows whose speed shows that the walker stood still; n speeds, NaN where unknown. */
export function standstills(
  speed_m_per_s: Float64Array,
  clock_s: Float64Array,
): readonly Standstill[] {
  const found: Standstill[] = [];
  for (let first = 0; first < speed_m_per_s.length; first++) {
    if (!(speed_m_per_s[first]! < STANDING.speed_m_per_s)) continue;
    let last = first;
    while (speed_m_per_s[last + 1]! < STANDING.speed_m_per_s) last++;
    const isLong = clock_s[last]! - clock_s[first]! >= STANDING.least_s;
    if (isLong && last - first + 1 >= STANDING.least) found.push({ first, last });
    first = last;
  }
  return found;
}

/** Cuts a standstill into pieces of at most 20 s, each of which becomes one reading. */
export function piecesOfStandstill(
  { first, last }: Standstill,
  clock_s: Float64Array,
): readonly Standstill[] {
  const pieces: Standstill[] = [];
  let start = first;
  for (let i = first + 1; i <= last + 1; i++) {
    if (i <= last && clock_s[i]! - clock_s[start]! <= AVERAGED_S) continue;
    pieces.push({ first: start, last: i - 1 });
    start = i;
  }
  return pieces;
}
