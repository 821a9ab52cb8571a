import { dot } from "../../numerics/algebra/dot.js";
import { neighbours, valueAt, zipped } from "../../numerics/arrays.js";
import { longestSeparation } from "../anomaly/line-profiles.js";
import { type ReadingRun, widened } from "../anomaly/reading-run.js";
import type { ScoredProfile } from "./score-profile.js";

/** What a run of readings shows. */
export interface RunEvidence {
  /** Mean distance from the centreline, m. */
  readonly offset_m: number;
  /** Fields of the channels with an anomaly, a part of it at least not explained by ground. */
  readonly channels: readonly string[];
  /** Highest score; 0 where none is above it. */
  readonly score: number;
  /** True where neighbouring readings have nothing in common, as noise has not; else left out. */
  readonly jumps?: true;
}

/** An average anomaly shows in a channel from this many standard errors on. */
const SHOWS = 4;

export function runEvidence(scored: ScoredProfile, { first, last }: ReadingRun): RunEvidence {
  const { profile, anomaly, residual } = scored;
  const inRun = (column: Float64Array) => column.subarray(first, last + 1);
  const offsets = inRun(profile.offset_m);
  const reaches = (column: Float64Array, least: number) =>
    inRun(column).some((value) => Math.abs(value) >= least);
  return {
    offset_m: offsets.reduce((sum, one) => sum + one, 0) / offsets.length,
    channels: zipped(profile.channels, zipped(anomaly, residual)).flatMap(
      ([{ field }, [whole, rest]]) =>
        reaches(whole, SHOWS) && reaches(rest, SHOWS / 2) ? [field] : [],
    ),
    score: inRun(scored.score).reduce((most, one) => (one > most ? one : most), 0),
    ...(jumps(scored, { first, last }) ? { jumps: true } : {}),
  };
}

/** Readings further apart than this share of the longest separation may miss an object between. */
const DENSE = 0.8;
/** What an object shows goes on, or swings back, in its neighbours by more than this. */
const GOES_ON = 0.3;
/** Noise of heavy tails seldom goes so far in a few readings; small metal does. */
const FAR = 10;
/** So many readings without anything in common are no piece of metal, however far they go. */
const MANY = 15;

/**
 * Whether readings jump one by one: an object under the coils shows over a separation and more, in
 * several readings. Of the whitened anomalies, with one reading more on each side, the sum of
 * products of neighbours over the sum of squares is near 0. Source: von Neumann 1941 (the ratio).
 */
function jumps({ profile, anomalies, score }: ScoredProfile, { first, last }: ReadingRun): boolean {
  const [from, to] = [Math.max(0, first - 1), Math.min(anomalies.length - 1, last + 1)];
  const { chainage_m } = profile;
  const apart_m = Math.abs(valueAt(chainage_m, to) - valueAt(chainage_m, from)) / (to - from);
  if (!(apart_m <= DENSE * longestSeparation(profile))) return false;
  const near = anomalies.slice(from, to + 1).map(({ whitened }) => whitened);
  const squares = near.reduce((sum, one) => sum + dot(one, one), 0);
  const products = neighbours(near).reduce((sum, [one, other]) => sum + dot(one, other), 0);
  const isNoisy = Math.abs(products) < GOES_ON * squares;
  const top = score.subarray(first, last + 1).reduce((most, one) => (one > most ? one : most), 0);
  return isNoisy && (top < FAR || near.length >= MANY);
}

/** With too few channels to judge by proportion, metal must show as a swing of both signs. */
export function swings({ profile, anomaly }: ScoredProfile, run: ReadingRun): boolean {
  const { first, last } = widened(profile.chainage_m, run, 2 * longestSeparation(profile));
  return anomaly.some((column) => {
    const near = column.subarray(first, last + 1);
    return near.some((value) => value >= SHOWS) && near.some((value) => value <= -SHOWS);
  });
}
