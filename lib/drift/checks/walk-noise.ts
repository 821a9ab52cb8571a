import { groupedBy, itemAt, zipped } from "../../numerics/arrays.js";
import { type NoiseModel, noiseOfScatter } from "../../numerics/statistics/level-noise.js";
import { madScale } from "../../numerics/statistics/robust.js";
import { usable } from "../../survey/account/reading-status.js";
import type { Pass } from "../../survey/survey.js";
import { withoutShared } from "./shared-scatter.js";

/** Noise of one reading of a channel at a value, channel's unit; NaN where it is not known. */
export type NoiseOf = (field: string, value: number) => number;

/** Fewer readings than these do not tell a channel's noise. */
const LEAST_READINGS = 30;
const NO_NOISE: NoiseModel = Object.freeze({ floor: 0, share: 0 });
/** Readings that scatter by less than this share of their value tell no noise. */
const LEAST_NOISE = 1e-6;

/**
 * The noise of one reading of each channel, from its walks. Noise is what a reading lies off the
 * middle of its two neighbours and the other channels of the walk do not: what the ground and the
 * coils' height do from one reading to the next, they do to several channels. Noise that channels
 * share stays in: the variance is raised to
 * what the nugget of the channel's own variogram is at least.
 *
 * Limits: a single channel over ground that changes within a metre or two reads as noisy.
 * Source: Matheron 1963, Economic Geology 58, 1246–1266 (the nugget).
 */
export function walkNoise(passes: readonly Pass[]): NoiseOf {
  const scattered = passes.flatMap((pass) =>
    zipped(pass.instrument.channels, scatterOf(usableOf(pass))).map(([{ field }, own]) => {
      return { field, ...own };
    }),
  );
  const models = new Map(
    Array.from(
      groupedBy(scattered, ({ field }) => field),
      ([field, all]) => {
        return [field, modelOf(all)] as const;
      },
    ),
  );
  return (field, value) => {
    const { floor, share } = models.get(field) ?? NO_NOISE;
    const noise = Math.hypot(floor, share * value);
    return noise > LEAST_NOISE * Math.abs(value) ? noise : Number.NaN;
  };
}

const usableOf = (pass: Pass) => pass.values.map((_, c) => usable(pass, c));

interface Scattered {
  readonly values: Float64Array;
  /** What of each value is noise. */
  readonly scatter: Float64Array;
  /** Factor that takes noise into account which other channels have too. */
  readonly factor: number;
}

function scatterOf(columns: readonly Float64Array[]): readonly Scattered[] {
  const bends = columns.map(bendsOf);
  return zipped(columns, withoutShared(bends)).map(([values, scatter], c) => {
    const [least, most] = [madScale(scatter) ** 2, madScale(itemAt(bends, c)) ** 2];
    const variance = Math.min(most, Math.max(least, sureNugget(values)));
    return { values, scatter, factor: variance > least ? Math.sqrt(variance / least) : 1 };
  });
}

/** By how much each value lies off the middle of its neighbours, of the noise's variance. */
function bendsOf(values: Float64Array): Float64Array {
  return values.map((value, i) => {
    const around = (values[i - 1] ?? Number.NaN) + (values[i + 1] ?? Number.NaN);
    return (around / 2 - value) / Math.sqrt(1.5);
  });
}

/** The nugget less two of its standard errors: that of a squared scale is sqrt(6 / n) of it. */
function sureNugget(values: Float64Array): number {
  const [near, far] = [semivariance(values, 1), semivariance(values, 2)];
  return 2 * near - far - 2 * far * Math.sqrt(6 / values.length);
}

function semivariance(values: Float64Array, lag: number): number {
  return madScale(values.map((value, i) => (values[i + lag] ?? Number.NaN) - value)) ** 2 / 2;
}

function modelOf(all: readonly Scattered[]): NoiseModel {
  const pairs = all.flatMap(({ values, scatter, factor }) =>
    Array.from(values, (value, i) => [value, factor * itemAt(scatter, i)] as const),
  );
  const known = pairs.filter(([value, own]) => !Number.isNaN(value + own));
  if (known.length < LEAST_READINGS) return NO_NOISE;
  const column = (k: 0 | 1) => Float64Array.from(known, (pair) => pair[k]);
  return noiseOfScatter(column(0), column(1));
}
