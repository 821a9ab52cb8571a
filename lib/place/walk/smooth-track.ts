import { itemAt } from "../../numerics/arrays.js";
import { MAD_TO_SD, median } from "../../numerics/statistics/robust.js";
import { type MeasuredWalk, type SmoothedWalk, smoothWalk } from "./walk-smoother.js";

/** n rows of one walk, in the order of time; positions are NaN where there is none. */
export type RawTrack = Omit<MeasuredWalk, "variance_m2">;

/** The walk, in gaps too; its standard deviations are of the jitter that is left. */
export interface SmoothTrack extends SmoothedWalk {
  /** n entries: 1 where the position given was a spike and is replaced. */
  readonly spike: Uint8Array;
  /** Standard deviation of the jitter from one position to the next, m. */
  readonly jitter_m: number;
}

/** Positions are written to a centimetre or so; a smaller jitter is rounding. */
const LEAST_JITTER_M = 0.02;
const ROUNDS = 4;
/** Degrees of freedom of Student's t: jitter has long tails. */
const DEGREES_OF_FREEDOM = 3;
/** A position further off than this many times the jitter, and than this, is a spike. */
const SPIKE_SD = 6;
const SPIKE_M = 1.5;

/**
 * The track without jitter and spikes: `smoothWalk` with weights of Student's t (4 rounds), begun
 * from the distance of each position to the median of the lines through its neighbours on both
 * sides. A position that repeats the one before is one that the receiver held, and counts as none.
 *
 * Returns null where fewer than three positions are left. Sources: Lange, Little & Taylor 1989,
 * Journal of the American Statistical Association 84, 881–896 (the weights); see `smoothWalk`.
 */
export function smoothTrack(track: RawTrack): SmoothTrack | null {
  const rows = freshRows(track);
  if (rows.length < 3) return null;
  const jitter_m = Math.max(LEAST_JITTER_M, jitterOf(track, rows));
  let round = reweighted(track, { rows, off_m: misfitToNeighbours(track, rows), jitter_m });
  for (let k = 1; k < ROUNDS; k++) {
    round = reweighted(track, { rows, off_m: round.off_m, jitter_m });
  }
  const { walk, off_m } = round;
  const spike = new Uint8Array(track.time_s.length);
  for (const [k, i] of rows.entries()) {
    if (off_m[k]! > Math.max(SPIKE_M, SPIKE_SD * jitter_m)) spike[i] = 1;
  }
  return { ...walk, spike, jitter_m };
}

interface Round {
  readonly rows: readonly number[];
  /** For each of the rows, how far its position lies off the walk, m. */
  readonly off_m: Float64Array;
  readonly jitter_m: number;
}

/** One round of the iteratively reweighted smoother. */
function reweighted(
  { time_s, x_m, y_m }: RawTrack,
  { rows, off_m, jitter_m }: Round,
): { readonly walk: SmoothedWalk; readonly off_m: Float64Array } {
  const variance_m2 = new Float64Array(time_s.length).fill(Number.POSITIVE_INFINITY);
  for (const [k, i] of rows.entries()) {
    const ratio = off_m[k]! / jitter_m;
    variance_m2[i] =
      (jitter_m ** 2 * (DEGREES_OF_FREEDOM + ratio * ratio)) / (DEGREES_OF_FREEDOM + 2);
  }
  const walk = smoothWalk({ time_s, x_m, y_m, variance_m2 });
  const off = (i: number) => Math.hypot(x_m[i]! - walk.x_m[i]!, y_m[i]! - walk.y_m[i]!);
  return { walk, off_m: Float64Array.from(rows, off) };
}

/** Rows with a position that differs from the one before. */
function freshRows({ x_m: x, y_m: y }: RawTrack): readonly number[] {
  const rows: number[] = [];
  let last = -1;
  for (const [i, east] of x.entries()) {
    if (!Number.isFinite(east + y[i]!)) continue;
    if (last < 0 || east !== x[last] || y[i] !== y[last]) rows.push(i);
    last = i;
  }
  return rows;
}

/** The straight line through the k-th neighbours on both sides at a position's time, minus it. */
function misfit(
  { time_s: t, x_m: x, y_m: y }: RawTrack,
  [before, here, after]: readonly [number, number, number],
) {
  const span_s = t[after]! - t[before]!;
  const share = span_s > 0 ? (t[here]! - t[before]!) / span_s : 0.5;
  return {
    x_m: x[before]! + share * (x[after]! - x[before]!) - x[here]!,
    y_m: y[before]! + share * (y[after]! - y[before]!) - y[here]!,
    gain: Math.sqrt(1 + share * share + (1 - share) ** 2),
  };
}

function misfitToNeighbours(track: RawTrack, rows: readonly number[]): Float64Array {
  return Float64Array.from(rows, (here, k) => {
    const reach = Math.min(3, k, rows.length - 1 - k);
    if (reach === 0) return 0;
    const at = (d: number) => misfit(track, [itemAt(rows, k - d), here, itemAt(rows, k + d)]);
    const one = at(1);
    if (reach === 1) return Math.hypot(one.x_m, one.y_m);
    const [two, three] = [at(2), at(reach)];
    return Math.hypot(middle(one.x_m, two.x_m, three.x_m), middle(one.y_m, two.y_m, three.y_m));
  });
}

function middle(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/** Robust standard deviation of a position about the line through its neighbours. */
function jitterOf(track: RawTrack, rows: readonly number[]): number {
  const off: number[] = [];
  for (let k = 1; k + 1 < rows.length; k++) {
    const { x_m, y_m, gain } = misfit(track, [rows[k - 1]!, rows[k]!, rows[k + 1]!]);
    off.push(Math.abs(x_m) / gain, Math.abs(y_m) / gain);
  }
  return MAD_TO_SD * median(off);
}
