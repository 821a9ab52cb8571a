import type { GroundShape } from "./ground-shape.js";

export interface WhiteningLine {
  /** n entries, 0 or more: variance of a sample beyond the usual, in the usual; NaN: missing. */
  readonly excess: Float64Array;
  readonly spacing_m: number;
}

/** What makes the samples of a line independent under a shape. */
export interface WhiteningFilter {
  /** By sample: what an innovation adds to the texture, and to the level. */
  readonly texture: Float64Array;
  readonly level: Float64Array;
  /** By sample: 1 over an innovation's standard deviation; 0 where it is missing. */
  readonly scale: Float64Array;
  /** Correlation of the texture from a sample to the next. */
  readonly keep: number;
  /** ln det of the correlation of the samples present. */
  readonly logDeterminant: number;
}

/**
 * The Kalman filter over white noise + texture (first-order autoregressive) + a level that walks at
 * random from 0; its first level is one of the columns' terms.
 *
 * Source: Durbin & Koopman 2012, Time Series Analysis by State Space Methods, chapters 4 and 6
 * (regression by whitening with one filter).
 */
export function whiteningFilter(
  { excess, spacing_m }: WhiteningLine,
  shape: GroundShape,
): WhiteningFilter {
  const n = excess.length;
  const keep = Math.exp(-spacing_m / shape.reach_m);
  const grain = 1 - shape.white;
  const step = (shape.wander * spacing_m) / 100;
  const [texture, level] = [new Float64Array(n), new Float64Array(n)];
  const scale = new Float64Array(n);
  let [a, b, c] = [grain, 0, 0];
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const own = excess[i]!;
    if (!Number.isNaN(own)) {
      const variance = a + 2 * b + c + shape.white + own;
      const k1 = (a + b) / variance;
      const k2 = (b + c) / variance;
      texture[i] = k1;
      level[i] = k2;
      scale[i] = 1 / Math.sqrt(variance);
      logDeterminant += Math.log(variance);
      const ofLevel = b + c;
      a -= k1 * (a + b);
      b -= k1 * ofLevel;
      c -= k2 * ofLevel;
    }
    a = keep * keep * a + (1 - keep * keep) * grain;
    b *= keep;
    c += step;
  }
  return { texture, level, scale, keep, logDeterminant };
}

/** A column from sample `from` on, whitened, and the states that it leaves. */
export interface Filtered {
  /** Innovations in their standard deviations, of as many samples; 0 where one is missing. */
  readonly white: Float64Array;
  /** What the filter takes for texture and for level after them. */
  readonly texture: number;
  readonly level: number;
}

export function filtered(
  { texture: ofTexture, level: ofLevel, scale, keep }: WhiteningFilter,
  column: Float64Array,
  from = 0,
): Filtered {
  const white = new Float64Array(column.length);
  let [texture, level] = [0, 0];
  for (let i = 0; i < column.length; i++) {
    const root = scale[from + i]!;
    if (root > 0) {
      const innovation = column[i]! - texture - level;
      white[i] = innovation * root;
      texture += ofTexture[from + i]! * innovation;
      level += ofLevel[from + i]! * innovation;
    }
    texture *= keep;
  }
  return { white, texture, level };
}
