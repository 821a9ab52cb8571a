import type { GroundShape } from "./ground-shape.js";

/** What makes the samples of a line independent under a shape. */
export interface Whitening {
  /** ln det of the correlation of the samples present. */
  readonly logDeterminant: number;
  /** A column of n samples as independent ones of unit variance; 0 where a sample is missing. */
  readonly apply: (column: Float64Array, from?: number) => Float64Array;
  /** The same of a one at sample `at` alone, from there to `to` − 1. */
  readonly impulse: (at: number, to: number) => Float64Array;
}

export interface WhiteningLine {
  /** n entries, 0 or more: variance of a sample beyond the usual, in the usual; NaN: missing. */
  readonly excess: Float64Array;
  readonly spacing_m: number;
}

/**
 * The innovations of a Kalman filter over white noise + texture (first-order autoregressive) + a
 * level that walks at random from 0; its first level is one of the columns' terms.
 *
 * Source: Durbin & Koopman 2012, Time Series Analysis by State Space Methods, chapters 4 and 6
 * (regression by whitening with one filter).
 */
export function whitening(line: WhiteningLine, shape: GroundShape): Whitening {
  const n = line.excess.length;
  const filter = kalmanFilter(line, shape);
  return {
    logDeterminant: filter.logDeterminant,
    apply: (column, from = 0) => {
      const white = new Float64Array(n);
      white.set(innovationsOf(filter, column.subarray(from), from), from);
      return white;
    },
    impulse: (at, to) => {
      const one = new Float64Array(to - at);
      one[0] = 1;
      return innovationsOf(filter, one, at);
    },
  };
}

interface KalmanFilter {
  /** By sample: what an innovation adds to the texture and to the level, and 1 over its sd. */
  readonly gains: { readonly texture: Float64Array; readonly level: Float64Array };
  readonly scale: Float64Array;
  /** Correlation of the texture from a sample to the next. */
  readonly keep: number;
  readonly logDeterminant: number;
}

function kalmanFilter({ excess, spacing_m }: WhiteningLine, shape: GroundShape): KalmanFilter {
  const n = excess.length;
  const keep = Math.exp(-spacing_m / shape.reach_m);
  const grain = 1 - shape.white;
  const step = (shape.wander * spacing_m) / 100;
  const gains = { texture: new Float64Array(n), level: new Float64Array(n) };
  const scale = new Float64Array(n);
  let [a, b, c] = [grain, 0, 0];
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const own = excess[i]!;
    if (!Number.isNaN(own)) {
      const variance = a + 2 * b + c + shape.white + own;
      const [k1, k2] = [(a + b) / variance, (b + c) / variance];
      gains.texture[i] = k1;
      gains.level[i] = k2;
      scale[i] = 1 / Math.sqrt(variance);
      logDeterminant += Math.log(variance);
      [a, b, c] = [a - k1 * (a + b), b - k1 * (b + c), c - k2 * (b + c)];
    }
    a = keep * keep * a + (1 - keep * keep) * grain;
    b *= keep;
    c += step;
  }
  return { gains, scale, keep, logDeterminant };
}

/** Innovations, in their sd, of a column that begins at sample `from`; 0 where one is missing. */
function innovationsOf(
  { gains, scale, keep }: KalmanFilter,
  column: Float64Array,
  from: number,
): Float64Array {
  const white = new Float64Array(column.length);
  let [texture, level] = [0, 0];
  for (let i = 0; i < column.length; i++) {
    const root = scale[from + i]!;
    if (root > 0) {
      const innovation = column[i]! - texture - level;
      white[i] = innovation * root;
      texture += gains.texture[from + i]! * innovation;
      level += gains.level[from + i]! * innovation;
    }
    texture *= keep;
  }
  return white;
}
