import { lastAtMost } from "../../numerics/linear-between.js";
import { MAD_TO_SD, median } from "../../numerics/robust.js";

/** Where the readings of a pass are, row by row; arrays are written into. */
export interface Placed {
  /** n times, s; NaN where there is none. */
  readonly clock_s: Float64Array;
  readonly line: readonly string[];
  /** n chainages and offsets, m; NaN without a position. */
  readonly chainage_m: Float64Array;
  readonly offset_m: Float64Array;
  /** n standard deviations of the chainage, m; NaN without a position. */
  readonly sd_m: Float64Array;
  /** n entries: 1 where the position was bridged. */
  readonly bridged: Uint8Array;
}

/** A known chainage at a time: a peg that was passed. */
export interface Knot {
  readonly time_s: number;
  readonly chainage_m: number;
}

/** Rows in a row without a position. */
export interface PositionGap {
  readonly readings: number;
  /** Chainages before and after; NaN at the ends of the file. */
  readonly from_m: number;
  readonly to_m: number;
  /** NaN at the ends of the file or without times. */
  readonly duration_s: number;
  readonly isBridged: boolean;
}

export interface BridgeLimits {
  readonly bridgeUpTo_m: number;
  readonly bridgeUpTo_s: number;
}

/** Nobody walks a bank faster than this, m/s. */
const FASTEST = 3;
/** How exactly a peg's time tells its place, m. */
const PEG_SD_M = 0.5;

/**
 * Fills gaps in the positions by time, from the position before to the one after and from peg to peg
 * within, where no piece is longer than the limits or was walked faster than 3 m/s. The standard
 * deviation of a bridged chainage is what the same bridge misses on stretches of the walk that have
 * positions, largest in the middle. Other gaps stay gaps.
 */
export function bridgeGaps(
  placed: Placed,
  knots: readonly Knot[],
  limits: BridgeLimits,
): readonly PositionGap[] {
  const { chainage_m, line } = placed;
  const gaps: PositionGap[] = [];
  const whole = Float64Array.from(chainage_m);
  const n = chainage_m.length;
  for (let first = 0; first < n; first++) {
    if (!Number.isNaN(whole[first]!)) continue;
    let last = first;
    while (last + 1 < n && Number.isNaN(whole[last + 1]!)) last++;
    const isInside = first > 0 && last + 1 < n && line[first - 1] === line[last + 1];
    gaps.push(
      isInside
        ? bridge({ placed, whole, first, last }, knots, limits)
        : openEnd(first, last, whole),
    );
    first = last;
  }
  return gaps;
}

function openEnd(first: number, last: number, whole: Float64Array): PositionGap {
  const [from_m, to_m] = [whole[first - 1] ?? Number.NaN, whole[last + 1] ?? Number.NaN];
  return { readings: last - first + 1, from_m, to_m, duration_s: Number.NaN, isBridged: false };
}

interface Hole {
  readonly placed: Placed;
  /** The chainages as they were before anything was bridged. */
  readonly whole: Float64Array;
  readonly first: number;
  readonly last: number;
}

function bridge(hole: Hole, knots: readonly Knot[], limits: BridgeLimits): PositionGap {
  const { placed, first, last } = hole;
  const { clock_s, chainage_m, sd_m } = placed;
  const at = (row: number) => ({
    time_s: clock_s[row]!,
    chainage_m: chainage_m[row]!,
    sd_m: sd_m[row]!,
  });
  const [before, after] = [at(first - 1), at(last + 1)];
  const duration_s = after.time_s - before.time_s;
  const within = knots
    .filter(({ time_s }) => time_s > before.time_s && time_s < after.time_s)
    .map((knot) => ({ ...knot, sd_m: PEG_SD_M }));
  const posts = [before, ...within, after];
  const isBridged = posts.slice(1).every((to, k) => {
    const [time_s, way_m] = [
      to.time_s - posts[k]!.time_s,
      Math.abs(to.chainage_m - posts[k]!.chainage_m),
    ];
    const isShort = time_s <= limits.bridgeUpTo_s && way_m <= limits.bridgeUpTo_m;
    return isShort && limits.bridgeUpTo_m > 0 && way_m <= FASTEST * time_s;
  });
  if (isBridged) fill(hole, posts);
  const readings = last - first + 1;
  return { readings, from_m: before.chainage_m, to_m: after.chainage_m, duration_s, isBridged };
}

interface Post extends Knot {
  readonly sd_m: number;
}

function fill({ placed, whole, first, last }: Hole, posts: readonly Post[]): void {
  const { clock_s, chainage_m, offset_m, sd_m, bridged } = placed;
  const [start, end] = [clock_s[first - 1]!, clock_s[last + 1]!];
  const misses = posts
    .slice(1)
    .map((to, k) => missOf(clock_s, whole, to.time_s - posts[k]!.time_s));
  for (let row = first; row <= last; row++) {
    const time = clock_s[row]!;
    const k = Math.max(
      0,
      posts.slice(0, -1).findLastIndex((post) => post.time_s <= time),
    );
    const [a, b] = [posts[k]!, posts[k + 1]!];
    const share = (time - a.time_s) / (b.time_s - a.time_s);
    const over = (time - start) / (end - start);
    chainage_m[row] = a.chainage_m + share * (b.chainage_m - a.chainage_m);
    offset_m[row] = offset_m[first - 1]! * (1 - over) + offset_m[last + 1]! * over;
    const ends = (1 - share) * a.sd_m + share * b.sd_m;
    sd_m[row] = Math.hypot(ends, misses[k]! * 2 * Math.sqrt(share * (1 - share)));
    bridged[row] = 1;
  }
}

const SAMPLES = 200;

/**
 * What a bridge of this duration misses in its middle, as a standard deviation, m: tried on the
 * stretches of the same walk that have positions; a tenth of a metre a second where these are few.
 */
function missOf(clock_s: Float64Array, chainage_m: Float64Array, duration_s: number): number {
  const rows: number[] = [];
  for (let i = 0; i < clock_s.length; i++) {
    if (!Number.isNaN(clock_s[i]! + chainage_m[i]!)) rows.push(i);
  }
  const times = Float64Array.from(rows, (i) => clock_s[i]!);
  const range = [0, times.length - 1] as const;
  const step = Math.max(1, Math.floor(rows.length / SAMPLES));
  const misses: number[] = [];
  for (let k = 0; k < rows.length; k += step) {
    const middle = lastAtMost(times, times[k]! + duration_s / 2, range);
    const end = lastAtMost(times, times[k]! + duration_s, range);
    const span_s = times[end]! - times[k]!;
    if (middle <= k || end <= middle || span_s < 0.9 * duration_s) continue;
    const share = (times[middle]! - times[k]!) / span_s;
    if (Math.abs(share - 0.5) > 0.1) continue;
    const [s0, s1, s2] = [
      chainage_m[rows[k]!]!,
      chainage_m[rows[middle]!]!,
      chainage_m[rows[end]!]!,
    ];
    misses.push(Math.abs(s1 - s0 - share * (s2 - s0)));
  }
  return misses.length >= 10 ? MAD_TO_SD * median(misses) : 0.1 * duration_s;
}
