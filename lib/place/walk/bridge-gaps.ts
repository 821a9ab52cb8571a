import { itemAt, lastOf, neighbours, valueAt } from "../../numerics/arrays.js";
import { type RowRun, runsWhere } from "../../numerics/runs.js";
import { bridgeError } from "./bridge-error.js";

/** Where the readings of a pass are, row by row; arrays are written into. */
export interface PlacedReadings {
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
/** Standard deviation of the place of a peg that was passed at a time, m. */
const PEG_SD_M = 0.5;

/**
 * Fills gaps in the positions by time, from the position before to the one after and from peg to
 * peg within, where no piece is longer than the limits or was walked faster than 3 m/s. The
 * standard deviation of a bridged chainage is the error of the same bridge on stretches of the walk
 * that have positions, largest in the middle. Other gaps stay gaps.
 */
export function bridgeGaps(
  placed: PlacedReadings,
  knots: readonly Knot[],
  limits: BridgeLimits,
): readonly PositionGap[] {
  const { line } = placed;
  const whole = Float64Array.from(placed.chainage_m);
  return runsWhere(whole, Number.isNaN).map(({ first, last }) => {
    const isInside = first > 0 && last + 1 < whole.length && line[first - 1] === line[last + 1];
    if (isInside) return bridge({ placed, whole, first, last }, knots, limits);
    const [from_m, to_m] = [valueAt(whole, first - 1), valueAt(whole, last + 1)];
    return { readings: last - first + 1, from_m, to_m, duration_s: Number.NaN, isBridged: false };
  });
}

interface Hole extends RowRun {
  readonly placed: PlacedReadings;
  /** The chainages as they were before anything was bridged. */
  readonly whole: Float64Array;
}

interface Post extends Knot {
  readonly sd_m: number;
}

function bridge(hole: Hole, knots: readonly Knot[], limits: BridgeLimits): PositionGap {
  const { placed, first, last } = hole;
  const at = (row: number): Post => ({
    time_s: valueAt(placed.clock_s, row),
    chainage_m: valueAt(placed.chainage_m, row),
    sd_m: valueAt(placed.sd_m, row),
  });
  const [before, after] = [at(first - 1), at(last + 1)];
  const within = knots
    .filter(({ time_s }) => time_s > before.time_s && time_s < after.time_s)
    .map((knot) => ({ ...knot, sd_m: PEG_SD_M }));
  const spans = neighbours([before, ...within, after]);
  const isBridged = spans.every(([from, to]) => {
    const time_s = to.time_s - from.time_s;
    const way_m = Math.abs(to.chainage_m - from.chainage_m);
    const isShort = time_s <= limits.bridgeUpTo_s && way_m <= limits.bridgeUpTo_m;
    return isShort && limits.bridgeUpTo_m > 0 && way_m <= FASTEST * time_s;
  });
  if (isBridged) fill(hole, spans);
  return {
    readings: last - first + 1,
    from_m: before.chainage_m,
    to_m: after.chainage_m,
    duration_s: after.time_s - before.time_s,
    isBridged,
  };
}

function fill({ placed, whole, first, last }: Hole, spans: readonly (readonly [Post, Post])[]) {
  const { clock_s, chainage_m, offset_m, sd_m, bridged } = placed;
  const [start_s, end_s] = [itemAt(spans, 0)[0].time_s, lastOf(spans)[1].time_s];
  const [start_m, end_m] = [valueAt(offset_m, first - 1), valueAt(offset_m, last + 1)];
  const pieces = spans.map(([from, to]) => ({
    ...{ from, to },
    error_m: bridgeError(clock_s, whole, to.time_s - from.time_s),
  }));
  for (let row = first; row <= last; row++) {
    const time_s = valueAt(clock_s, row);
    const piece = pieces.findLast(({ from }) => from.time_s <= time_s) ?? itemAt(pieces, 0);
    const { from, to, error_m } = piece;
    const share = (time_s - from.time_s) / (to.time_s - from.time_s);
    const over = (time_s - start_s) / (end_s - start_s);
    chainage_m[row] = from.chainage_m + share * (to.chainage_m - from.chainage_m);
    offset_m[row] = start_m * (1 - over) + end_m * over;
    const ends_m = (1 - share) * from.sd_m + share * to.sd_m;
    sd_m[row] = Math.hypot(ends_m, error_m * 2 * Math.sqrt(share * (1 - share)));
    bridged[row] = 1;
  }
}
