import { median } from "../../numerics/robust.js";
import { GRID_M } from "./even-grid.js";

/** A score of every shift in every block of a bank; the higher, the likelier. */
export interface BlockScores {
  /** Chainage of each block's middle, m. */
  readonly middle_m: readonly number[];
  /** For each block, one score a shift; shifts are 0.5 m apart about 0. */
  readonly score: readonly Float64Array[];
}

const WINDOW = 4;

/** The blocks by stretches of four, 100 m where no block is without cells; the last may be longer. */
export function windowsOf({ middle_m, score }: BlockScores): readonly BlockScores[] {
  const count = Math.max(1, Math.floor(score.length / WINDOW));
  return Array.from({ length: count }, (_, k) => {
    const to = k === count - 1 ? score.length : (k + 1) * WINDOW;
    return { middle_m: middle_m.slice(k * WINDOW, to), score: score.slice(k * WINDOW, to) };
  });
}

/** The scores of all blocks together. */
export function summed(scores: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(scores[0]!.length);
  for (const score of scores) for (const [k, value] of score.entries()) sum[k]! += value;
  return sum;
}

/** A wandering shift keeps this near to its mean, m. */
const NEAR_M = 3;
/** Cells on both sides of a peak through which its parabola goes. */
const HALF = 2;

/** The highest of the scores, near a shift where one is given; null where none is within. */
export function peakOf(score: Float64Array, near_m?: number) {
  const middle = (score.length - 1) / 2;
  const from = near_m === undefined ? 0 : Math.ceil(middle + (near_m - NEAR_M) / GRID_M);
  const to =
    near_m === undefined ? score.length - 1 : Math.floor(middle + (near_m + NEAR_M) / GRID_M);
  const [low, high] = [Math.max(HALF, from), Math.min(score.length - 1 - HALF, to)];
  let best = low;
  for (let k = low; k <= high; k++) if (score[k]! > score[best]!) best = k;
  if (best === low || best === high) return null;
  const at_m = (best - middle) * GRID_M;
  const { slope, curvature } = parabolaAt(score, at_m);
  if (!(curvature > 0)) return null;
  const step = slope / curvature;
  return { at_m: at_m + Math.max(-GRID_M, Math.min(GRID_M, step)), curvature };
}

/** Slope and curvature (positive at a peak) of a parabola through the scores about a shift, per m. */
export function parabolaAt(score: Float64Array, at_m: number) {
  const middle = (score.length - 1) / 2;
  const nearest = Math.round(middle + at_m / GRID_M);
  const k = Math.max(HALF, Math.min(score.length - 1 - HALF, nearest));
  let [s2, s4, y0, y1, y2] = [0, 0, 0, 0, 0];
  for (let d = -HALF; d <= HALF; d++) {
    const y = score[k + d]!;
    [s2, s4, y0, y1, y2] = [s2 + d * d, s4 + d ** 4, y0 + y, y1 + d * y, y2 + d * d * y];
  }
  const n = 2 * HALF + 1;
  const second = (2 * (y2 - (s2 * y0) / n)) / (s4 - (s2 * s2) / n);
  const off = middle + at_m / GRID_M - k;
  return {
    slope: (y1 / s2 + second * off) / GRID_M,
    curvature: -second / (GRID_M * GRID_M),
  };
}

/** The best shift must be likelier than any other peak this far from it … */
const RIVAL_M = 2;
/** … by this share of what it is likelier than the middle one by. */
const HALFWAY = 0.5;

/**
 * True where another peak does nearly as well as the best one, as on ground that repeats itself: by
 * less than `least`, or by less than half of what the best has over the middle one.
 */
export function hasRival(score: Float64Array, at_m: number, least = 0): boolean {
  const best = Math.max(...score);
  const enough = Math.max(least, HALFWAY * (best - median(score)));
  const isFar = (k: number) => Math.abs((k - (score.length - 1) / 2) * GRID_M - at_m) > RIVAL_M;
  const isPeak = (k: number) => !(score[k - 1]! > score[k]!) && !(score[k + 1]! > score[k]!);
  return score.some((value, k) => value > best - enough && isFar(k) && isPeak(k));
}
