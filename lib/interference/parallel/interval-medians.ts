import { itemAt, valueAt } from "../../numerics/arrays.js";
import { type NoiseModel, noiseAt } from "../../numerics/statistics/level-noise.js";
import { median } from "../../numerics/statistics/robust.js";
import { type StationShapes, stationShapes } from "../../survey/bank/station-shapes.js";
import type { CrossSectionProfile } from "../../survey/survey.js";
import type { LineProfile } from "../anomaly/line-profiles.js";
import { type MeasuredChannels, MODEL_ERROR } from "../anomaly/nearest-ground.js";
import type { ScoredProfile } from "../metal/score-profile.js";

/** Medians of c channels of all walks over a line, interval by interval of chainage. */
export interface IntervalMedians extends Pick<LineProfile, "channels" | "height_m" | "pairs"> {
  /** Of the bank under each interval. */
  readonly shapes: StationShapes;
  readonly intervals: readonly Interval[];
}

/** One interval: the medians and their standard errors. */
export interface Interval extends MeasuredChannels {
  readonly from_m: number;
  readonly to_m: number;
}

/** Length of the intervals, m: several times the coils. */
export const INTERVAL_M = 10;
/** Fewer readings than this give an interval no median. */
const LEAST = 3;
/** A median's error over a mean's, of normal values: sqrt(π/2). */
const MEDIAN_ERROR = 1.2533;

/**
 * @param walks - lines within reach of each other, each with a reading.
 * @param aside - true where a reading is set aside anyhow.
 */
export function intervalMedians(
  walks: readonly ScoredProfile[],
  crossSections: CrossSectionProfile | undefined,
  aside: (chainage_m: number, offset_m: number) => boolean,
): IntervalMedians {
  const ends = walks.flatMap(({ profile: { chainage_m } }) => [chainage_m[0]!, chainage_m.at(-1)!]);
  const first = Math.floor(Math.min(...ends) / INTERVAL_M);
  const count = Math.max(0, Math.ceil(Math.max(...ends) / INTERVAL_M) - first);
  const columns = walks.flatMap(({ profile, noise }) => {
    const at = Array.from(profile.chainage_m, (x, i) =>
      aside(x, valueAt(profile.offset_m, i)) ? -1 : Math.floor(x / INTERVAL_M) - first,
    );
    return profile.values.map((values, c) =>
      columnMedians(members(values, at, count), noise[c]!, middleDriftSd(profile, c)),
    );
  });
  const middles = Array.from({ length: count }, (_, k) => (first + k + 0.5) * INTERVAL_M);
  const left_m = median(walks.map(({ profile }) => profile.left_m));
  return {
    shapes: stationShapes(middles, left_m, crossSections),
    channels: walks.flatMap(({ profile }) => profile.channels),
    pairs: walks.flatMap(({ profile }) => profile.pairs),
    height_m: median(walks.map(({ profile }) => profile.height_m)),
    intervals: Array.from({ length: count }, (_, k) => ({
      from_m: (first + k) * INTERVAL_M,
      to_m: (first + k + 1) * INTERVAL_M,
      level: Float64Array.from(columns, ({ level }) => level[k]!),
      error: Float64Array.from(columns, ({ error }) => error[k]!),
    })),
  };
}

/** Values by interval, those without one or without a value left out. */
function members(values: Float64Array, at: readonly number[], count: number): number[][] {
  const found = Array.from({ length: count }, (): number[] => []);
  for (const [i, value] of values.entries()) {
    if (!Number.isNaN(value)) found[at[i]!]?.push(value);
  }
  return found;
}

/** Median of the drift that is left, one standard deviation. */
function middleDriftSd({ pass, rows, channels }: LineProfile, c: number): number {
  const sd = pass.driftSd?.[pass.instrument.channels.indexOf(itemAt(channels, c))];
  return sd === undefined ? 0 : median(Float64Array.from(rows, (i) => sd[i]!)) || 0;
}

function columnMedians(
  found: readonly (readonly number[])[],
  noise: NoiseModel,
  driftSd: number,
): MeasuredChannels {
  const level = Float64Array.from(found, (own) => (own.length < LEAST ? Number.NaN : median(own)));
  const error = Float64Array.from(found, (own, k) => {
    const value = level[k]!;
    const scatter = (MEDIAN_ERROR * noiseAt(noise, value)) / Math.sqrt(own.length);
    return Math.hypot(scatter, MODEL_ERROR * value, driftSd);
  });
  return { level, error };
}
