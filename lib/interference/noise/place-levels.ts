import { median } from "../../numerics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { TrackScore } from "../metal/score.js";
import { type NoiseModel, noiseFloored } from "./channel-noise.js";

/** Middle values of all channels of all walks, stretch by stretch along the line. */
export interface PlaceLevels {
  /** k middles of the stretches, m. */
  readonly chainage_m: Float64Array;
  readonly length_m: number;
  readonly channels: readonly Channel[];
  readonly height_m: number;
  /** k vectors of c middle values; NaN where missing. */
  readonly level: readonly Float64Array[];
  /** k vectors of c standard errors of the middle values. */
  readonly error: readonly Float64Array[];
}

/** Fewer readings than this give a stretch no level. */
const LEAST = 3;
/** A median's error over a mean's, of normal values: sqrt(π/2). */
const MEDIAN_ERROR = 1.2533;
/** How well coils, their height and the layered response are known, as a share of the value. */
const MODEL_ERROR = 0.01;

/**
 * @param scored tracks on lines within reach of each other, their noise known
 * @param aside true where a reading is set aside anyhow
 */
export function placeLevels(
  scored: readonly TrackScore[],
  length_m: number,
  aside: (chainage_m: number, offset_m: number) => boolean,
): PlaceLevels {
  const ends = scored.flatMap(({ track }) => [track.chainage_m[0]!, track.chainage_m.at(-1)!]);
  const first = Math.floor(Math.min(...ends) / length_m);
  const count = Math.max(0, Math.ceil(Math.max(...ends) / length_m) - first);
  const columns = scored.flatMap(({ track, noise }) => {
    const drift = track.channels.map((_, c) => middleDriftSd(track, c));
    const use = track.chainage_m.map((x, i) => (aside(x, track.offset_m[i]!) ? Number.NaN : x));
    return track.values.map((values, c) =>
      levelsOf(
        { chainage_m: use, values, noise: noise[c]!, drift: drift[c]! },
        { first, count, length_m },
      ),
    );
  });
  const at = (k: number, part: "level" | "error") =>
    Float64Array.from(columns, (column) => column[part][k]!);
  const all = Array.from({ length: count }, (_, k) => k);
  return {
    chainage_m: Float64Array.from(all, (k) => (first + k + 0.5) * length_m),
    length_m,
    channels: scored.flatMap(({ track }) => track.channels),
    height_m: median(scored.map(({ track }) => median(track.pass.height_m))),
    level: all.map((k) => at(k, "level")),
    error: all.map((k) => at(k, "error")),
  };
}

interface Walked {
  readonly chainage_m: Float64Array;
  readonly values: Float64Array;
  readonly noise: NoiseModel;
  /** Standard deviation of drift that is left. */
  readonly drift: number;
}

function middleDriftSd({ pass, rows }: TrackScore["track"], c: number): number {
  const sd = pass.driftSd?.[c];
  return sd === undefined ? 0 : median(Float64Array.from(rows, (i) => sd[i]!)) || 0;
}

interface Stretches {
  readonly first: number;
  readonly count: number;
  readonly length_m: number;
}

function levelsOf(
  { chainage_m, values, noise, drift }: Walked,
  { first, count, length_m }: Stretches,
) {
  const members = Array.from({ length: count }, (): number[] => []);
  for (const [i, x] of chainage_m.entries()) {
    const value = values[i]!;
    if (Number.isNaN(x + value)) continue;
    members[Math.floor(x / length_m) - first]?.push(value);
  }
  const level = Float64Array.from(members, (own) =>
    own.length < LEAST ? Number.NaN : median(own),
  );
  const error = level.map((value, k) => {
    const scatter = (MEDIAN_ERROR * noiseFloored(noise, value)) / Math.sqrt(members[k]!.length);
    return Math.hypot(scatter, MODEL_ERROR * value, drift);
  });
  return { level, error };
}
