import { dot } from "../../numerics/algebra/dot.js";
import { valueAt } from "../../numerics/arrays.js";
import { type NoiseModel, noiseAt } from "../../numerics/statistics/level-noise.js";
import type { Background } from "./background.js";
import { type Whitener, whitener } from "./whitener.js";

/** One channel along a line, with its noise and its local levels. */
export interface ChannelModel {
  readonly values: Float64Array;
  readonly noise: NoiseModel;
  readonly background: Background;
}

/** One reading's departure from its surroundings, c channels in noises; 0 for missing channels. */
export interface ReadingAnomaly {
  readonly anomaly: Float64Array;
  /** (I + G)⁻¹ e, the part of the anomaly e that is put down to anything but ground. */
  readonly residual: Float64Array;
  /** Whitened anomaly: its square is eᵀ (I + G)⁻¹ e. */
  readonly whitened: Float64Array;
  readonly present: Uint8Array;
  /** Noises of the channels; 0 for missing ones. */
  readonly sd: Float64Array;
  /** Takes a vector in noises to where noise and ground together have unit covariance. */
  readonly whiten: Whitener["whiten"];
  /** Channels left to judge by: the trace of (I + G)⁻¹. */
  readonly freedom: number;
}

/**
 * How reading i departs from its surroundings, and how much of that the ground explains.
 *
 * @param covariance - c × c of the ground, in the channels' units.
 */
export function readingAnomaly(
  channels: readonly ChannelModel[],
  covariance: Float64Array,
  i: number,
): ReadingAnomaly {
  const count = channels.length;
  const present = new Uint8Array(count);
  const sd = new Float64Array(count);
  const anomaly = new Float64Array(count);
  const contrast = new Float64Array(count);
  for (const [c, { values, noise, background }] of channels.entries()) {
    const value = valueAt(values, i);
    const level = levelsAt(background, i);
    if (Number.isNaN(value + level.before)) continue;
    const noiseHere = noiseAt(noise, (level.before + level.after) / 2);
    present[c] = 1;
    sd[c] = noiseHere;
    anomaly[c] = (value - level.after) / noiseHere;
    contrast[c] = (level.before - level.after) / noiseHere;
  }
  const { whiten, unwhiten, freedom } = whitener(covariance, sd, present);
  const [white, whiteContrast] = [whiten(anomaly), whiten(contrast)];
  const share = bestShare(white, whiteContrast);
  const without = (vector: Float64Array, level: Float64Array) =>
    vector.map((value, c) => value - share * level[c]!);
  const whitened = without(white, whiteContrast);
  const residual = unwhiten(whitened);
  return { anomaly: without(anomaly, contrast), residual, whitened, present, sd, whiten, freedom };
}

/** Levels on both sides; at an end of the line, the one side there is; NaN without any. */
function levelsAt({ before, after }: Background, i: number): { before: number; after: number } {
  const [one, two] = [valueAt(before, i), valueAt(after, i)];
  return { before: Number.isNaN(one) ? two : one, after: Number.isNaN(two) ? one : two };
}

/** The share of `contrast`, 0 to 1, that leaves least of `whitened`. */
function bestShare(whitened: Float64Array, contrast: Float64Array): number {
  const square = dot(contrast, contrast);
  return square > 0 ? Math.min(1, Math.max(0, dot(whitened, contrast) / square)) : 0;
}
