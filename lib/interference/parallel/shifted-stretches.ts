import { dot } from "../../numerics/algebra/dot.js";
import { itemAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { shapeAt } from "../../survey/bank/station-shapes.js";
import { cubeRootScore } from "../anomaly/cube-root-score.js";
import {
  distanceFromGround,
  type GroundDistance,
  groundCatalogue,
  LEAST_FREEDOM,
} from "../anomaly/nearest-ground.js";
import { type ReadingRun, runsWhere } from "../anomaly/reading-run.js";
import { INTERVAL_M, type Interval, type IntervalMedians } from "./interval-medians.js";
import { middleLine } from "./middle-line.js";

/** A stretch whose level as a whole is nothing that layered ground could give. */
export interface ShiftedStretch {
  readonly from_m: number;
  readonly to_m: number;
  /** Mean score of its intervals, in standard deviations of intervals elsewhere. */
  readonly score: number;
  /** Fields of the channels that show it, on average over its intervals. */
  readonly channels: readonly string[];
}

/** Rounds of taking off what the intervals have in common: zero levels, and drift that is left. */
const ROUNDS = 3;
/** Score of every interval of a stretch, and of the stretch on average. */
const LEAST = { interval: 2.5, mean: 4 };
/** Shorter shifts are left to the detection of single objects, m. */
const SHORTEST_M = 30;
/** A longer shift, as a share of the line, is taken for the line's usual level. */
const LONGEST_SHARE = 0.4;
/** An average residual shows in a channel from this many errors on. */
const SHOWS = 2;

/** True where channels are left to judge by once ground has explained what it can. */
export function separatesObjects(medians: IntervalMedians): boolean {
  const known = medians.intervals.findIndex(({ level }) => !level.every(Number.isNaN));
  if (known < 0) return false;
  const distance = distanceFromGround(catalogues(medians)(known), itemAt(medians.intervals, known));
  return (distance?.freedom ?? 0) >= LEAST_FREEDOM;
}

/**
 * Stretches of 30 m or more that an object along the line shifts as a whole, such as a guard rail
 * or a cable: their medians, all channels of all walks together, in-phase and both orientations
 * among them, lie further from every layered ground than elsewhere. None where the channels are too
 * few to tell such an object from ground.
 */
export function shiftedStretches(medians: IntervalMedians): readonly ShiftedStretch[] {
  const { channels, intervals } = medians;
  const distances = distancesLessCommon(medians);
  const freedom = median(distances.map((one) => one?.freedom ?? Number.NaN));
  if (!(freedom >= LEAST_FREEDOM)) return [];
  const scores = scoresOf(distances);
  const longest_m = LONGEST_SHARE * intervals.length * INTERVAL_M;
  const raised = (k: number) => (scores[k] ?? Number.NaN) >= LEAST.interval;
  // One interval without readings, or weak, ends no run.
  const holds = (k: number) => raised(k) || (raised(k - 1) && raised(k + 1));
  return runsWhere(scores.length, holds).flatMap(({ first, last }) => {
    const known = scores.slice(first, last + 1).filter((one) => !Number.isNaN(one));
    const score = known.reduce((sum, one) => sum + one, 0) / known.length;
    const { from_m } = itemAt(intervals, first);
    const { to_m } = itemAt(intervals, last);
    const length_m = to_m - from_m;
    if (length_m < SHORTEST_M || length_m > longest_m || !(score >= LEAST.mean)) return [];
    const residual = meanResidual(distances, first, last);
    if (residual === null || !startsAndEnds(distances, { first, last }, residual)) return [];
    const shown = channels.filter((_, c) => {
      return Math.abs(residual[c]!) * Math.sqrt(known.length) >= SHOWS;
    });
    return { from_m, to_m, score, channels: shown.map(({ field }) => field) };
  });
}

/** The grounds to compare an interval with: those on a bank of its shape. */
function catalogues({ shapes, ...coils }: IntervalMedians) {
  return (interval: number) =>
    groundCatalogue({ ...coils, shape: shapeAt(shapes, interval) ?? null });
}

/** Distances from ground once what the intervals have in common is taken off. */
function distancesLessCommon(medians: IntervalMedians): readonly (GroundDistance | null)[] {
  const catalogueOf = catalogues(medians);
  const distancesOf = (intervals: readonly Interval[]) =>
    intervals.map((interval, k) => distanceFromGround(catalogueOf(k), interval));
  const { channels } = medians;
  let { intervals } = medians;
  let distances = distancesOf(intervals);
  for (let round = 1; round < ROUNDS; round++) {
    intervals = lessCommon(intervals, distances, channels.length);
    distances = distancesOf(intervals);
  }
  return distances;
}

/** Takes off each channel's line along the intervals through what it shows beyond ground. */
function lessCommon(
  intervals: readonly Interval[],
  distances: readonly (GroundDistance | null)[],
  count: number,
): readonly Interval[] {
  const lines = Array.from({ length: count }, (_, c) => {
    const beyond = zipped(intervals, distances).flatMap(([{ error }, distance], k) =>
      distance === null || Number.isNaN(error[c]!)
        ? []
        : [{ at: k, value: distance.residual[c]! * error[c]! }],
    );
    return middleLine(beyond);
  });
  return intervals.map((interval, k) => ({
    ...interval,
    level: interval.level.map((value, c) => value - itemAt(lines, c)(k)),
  }));
}

function scoresOf(distances: readonly (GroundDistance | null)[]): readonly number[] {
  const ratio = distances.map((one) => (one === null ? Number.NaN : one.square / one.freedom));
  // Never below the scatter that the errors give.
  const scale = Math.max(1, median(ratio));
  return zipped(ratio, distances).map(([one, distance]) =>
    distance === null ? Number.NaN : cubeRootScore(one / scale, distance.freedom),
  );
}

/** Least part of the shift that comes or goes within two intervals of its ends. */
const SHARP = 0.5;

/**
 * Drift that is left rises and falls slowly; an object starts and ends. An end of the line counts.
 */
function startsAndEnds(
  distances: readonly (GroundDistance | null)[],
  { first, last }: ReadingRun,
  inside: Float64Array,
): boolean {
  const square = dot(inside, inside);
  const rises = (within: number, without: number) => {
    const near = meanResidual(distances, within, within + 1);
    const far = meanResidual(distances, without, without + 1);
    return near === null || far === null || dot(near, inside) - dot(far, inside) >= SHARP * square;
  };
  return rises(first, first - 3) && rises(last - 1, last + 2);
}

/** Mean residual of the intervals from `first` to `last`; null without any. */
function meanResidual(
  distances: readonly (GroundDistance | null)[],
  first: number,
  last: number,
): Float64Array | null {
  const own = distances.slice(Math.max(0, first), Math.max(0, last + 1)).filter((d) => d !== null);
  const [one] = own;
  if (one === undefined) return null;
  return one.residual.map(
    (_, c) => own.reduce((sum, { residual }) => sum + residual[c]!, 0) / own.length,
  );
}
