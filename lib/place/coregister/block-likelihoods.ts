import { median } from "../../numerics/statistics/robust.js";
import { GRID_M } from "./even-grid.js";

/** Log likelihood of every shift in every block of a bank, but for a factor. */
export interface BlockLikelihoods {
  /** Chainage of each block's middle, m. */
  readonly middle_m: readonly number[];
  /** For each block, one value a shift; shifts are 0.5 m apart about 0. */
  readonly logLikelihood: readonly Float64Array[];
}

const WINDOW = 4;

/**
 * The blocks by stretches of four, 100 m where no block is without cells; the last may be longer.
 */
export function windowsOf(blocks: BlockLikelihoods): readonly BlockLikelihoods[] {
  const { middle_m, logLikelihood } = blocks;
  const count = Math.max(1, Math.floor(logLikelihood.length / WINDOW));
  return Array.from({ length: count }, (_, k) => {
    const range = [k * WINDOW, k === count - 1 ? logLikelihood.length : (k + 1) * WINDOW] as const;
    return { middle_m: middle_m.slice(...range), logLikelihood: logLikelihood.slice(...range) };
  });
}

/** The log likelihood of each shift in all blocks together. */
export function summed({ logLikelihood: [first, ...others] }: BlockLikelihoods): Float64Array {
  const sum = Float64Array.from(first ?? []);
  for (const one of others) for (const [k, value] of one.entries()) sum[k]! += value;
  return sum;
}

/** A shift that varies along the bank stays this near to its mean, m. */
const NEAR_M = 3;
/** Cells on both sides of a peak through which its parabola goes. */
const HALF = 2;

/** The highest value, near a shift where one is given; null where none is within. */
export function peakOf(values: Float64Array, near_m?: number) {
  const middle = (values.length - 1) / 2;
  const from = near_m === undefined ? 0 : Math.ceil(middle + (near_m - NEAR_M) / GRID_M);
  const to =
    near_m === undefined ? values.length - 1 : Math.floor(middle + (near_m + NEAR_M) / GRID_M);
  const [low, high] = [Math.max(HALF, from), Math.min(values.length - 1 - HALF, to)];
  let best = low;
  for (let k = low; k <= high; k++) if (values[k]! > values[best]!) best = k;
  if (best === low || best === high) return null;
  const at_m = (best - middle) * GRID_M;
  const { slope, curvature } = parabolaAt(values, at_m);
  if (!(curvature > 0)) return null;
  const step = slope / curvature;
  return { at_m: at_m + Math.max(-GRID_M, Math.min(GRID_M, step)), curvature };
}

/**
 * Slope and curvature (positive at a peak) of a parabola through the values about a shift, per m.
 */
export function parabolaAt(values: Float64Array, at_m: number) {
  const middle = (values.length - 1) / 2;
  const nearest = Math.round(middle + at_m / GRID_M);
  const k = Math.max(HALF, Math.min(values.length - 1 - HALF, nearest));
  const { slope, second } = fittedParabola(values, k, HALF);
  const off = middle + at_m / GRID_M - k;
  return {
    slope: (slope + second * off) / GRID_M,
    curvature: -second / (GRID_M * GRID_M),
  };
}

/** Slope and second derivative at a cell, by least squares over `half` cells before and after. */
export function fittedParabola(values: ArrayLike<number>, cell: number, half: number) {
  let [s2, s4, y0, y1, y2] = [0, 0, 0, 0, 0];
  for (let d = -half; d <= half; d++) {
    const y = values[cell + d]!;
    [s2, s4, y0, y1, y2] = [s2 + d * d, s4 + d ** 4, y0 + y, y1 + d * y, y2 + d * d * y];
  }
  const n = 2 * half + 1;
  return { slope: y1 / s2, second: (2 * (y2 - (s2 * y0) / n)) / (s4 - (s2 * s2) / n) };
}

/** The best shift must be likelier than any other peak this far from it … */
const RIVAL_M = 2;
/** … by this share of what it is likelier than the middle one by. */
const HALFWAY = 0.5;

/**
 * True where another peak does nearly as well as the best one, as on ground that repeats itself: by
 * less than `least`, or by less than half of what the best has over the middle one.
 */
export function isAmbiguous(values: Float64Array, at_m: number, least = 0): boolean {
  const best = Math.max(...values);
  const enough = Math.max(least, HALFWAY * (best - median(values)));
  const isFar = (k: number) => Math.abs((k - (values.length - 1) / 2) * GRID_M - at_m) > RIVAL_M;
  const isPeak = (k: number) => !(values[k - 1]! > values[k]!) && !(values[k + 1]! > values[k]!);
  return values.some((value, k) => value > best - enough && isFar(k) && isPeak(k));
}
