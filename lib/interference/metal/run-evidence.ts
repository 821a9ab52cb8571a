import { zipped } from "../../numerics/arrays.js";
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
  };
}

/** With too few channels to judge by proportion, metal must show as a swing of both signs. */
export function swings({ profile, anomaly }: ScoredProfile, run: ReadingRun): boolean {
  const { first, last } = widened(profile.chainage_m, run, 2 * longestSeparation(profile));
  return anomaly.some((column) => {
    const near = column.subarray(first, last + 1);
    return near.some((value) => value >= SHOWS) && near.some((value) => value <= -SHOWS);
  });
}
