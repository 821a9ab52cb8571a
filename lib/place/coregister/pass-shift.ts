import type { BlockScores } from "./block-scores.js";
import { GRID_M, sharedChannels } from "./even-grid.js";
import { evenShift } from "./even-shift.js";
import type { PassProfile } from "./pass-profile.js";
import { type ShiftAlong, wanderingShift } from "./wandering-shift.js";

/** How far the second of two passes lies ahead of the first along the bank. */
export interface PassShift extends ShiftAlong {
  /** Likeness of the two once brought together: a correlation coefficient, the telling channels first. */
  readonly likeness: number;
  /** Metres of bank compared. */
  readonly overlap_m: number;
}

/** Why two passes do not tell a shift. */
export type NoShift = "other line" | "no overlap" | "unlike" | "flat" | "beyond";

/** Shifts up to this are looked for, m; those within a metre of it are not believed. */
const FURTHEST_SHIFT_M = 6;
const REACH = FURTHEST_SHIFT_M / GRID_M;
const LAGS = 2 * REACH + 1;
const BLOCK_M = 25;
const BLOCK = BLOCK_M / GRID_M;
const LEAST_OVERLAP_M = 150;
/** Below this likeness two passes do not tell a shift. */
const LEAST_LIKENESS = 0.4;
/** Nor where the shift would be less sure than this, m. */
const LEAST_SURE_M = 0.5;

/**
 * How far the second pass lies ahead of the first: the shift at which the fine courses of their
 * shared channels differ least.
 *
 * The sum over 25 m blocks of −½ Σ w (b(x + d) − a(x))² is a likelihood but for a factor; w is
 * r / (1 − r²) with r the channel's correlation at the best shift, so that channels which show the
 * same in both passes speak loudest. The factor comes from how much the blocks' own slopes scatter,
 * block by block within 100 m, and makes the uncertainty hold where noise and ground are alike from
 * one reading to the next (a sandwich estimate: White 1982, Econometrica 50, 1–25). Where stretches
 * of 100 m disagree by more than that, the shift may wander along the bank (`wanderingShift`).
 */
export function shiftBetween(one: PassProfile, other: PassProfile): PassShift | NoShift {
  const pairs = sharedChannels(one.channels, other.channels);
  const sums = pairs.map(([i, j]) => blockSums(one, other, [one.fine[i]!, other.fine[j]!]));
  const overlap_m = Math.max(0, ...sums.map(({ cells }) => cells * GRID_M));
  if (!(overlap_m >= LEAST_OVERLAP_M)) return "no overlap";
  const best = bestLag(sums);
  const r = sums.map((sum) => Math.min(0.98, Math.max(0, sum.correlation[best]!)));
  const weights = r.map((one) => one / (1 - one * one));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const likeness = weights.reduce((sum, weight, c) => sum + weight * r[c]!, 0) / total;
  if (!(likeness >= LEAST_LIKENESS)) return "unlike";
  if (Math.abs(best - REACH) * GRID_M > FURTHEST_SHIFT_M - 1) return "beyond";
  const blocks = weighted(sums, weights);
  const even = evenShift(blocks);
  if (even === null || !(even.sd_m <= LEAST_SURE_M)) return "flat";
  return { ...wanderingShift(blocks, even), likeness, overlap_m };
}

interface BlockSums {
  /** Of the first block of 25 m, counted from chainage 0. */
  readonly firstBlock: number;
  /** blocks × lags sums of squared differences. */
  readonly squares: Float64Array;
  /** One correlation a lag. */
  readonly correlation: Float64Array;
  /** Cells that both have at every lag. */
  readonly cells: number;
}

/** Sums over the cells that have a value in the first pass, and in the second at every shift. */
function blockSums(
  one: PassProfile,
  other: PassProfile,
  [a, b]: readonly [Float64Array, Float64Array],
): BlockSums {
  const ahead = one.first - other.first;
  const firstBlock = Math.floor(one.first / BLOCK);
  const blocks = Math.floor((one.first + a.length - 1) / BLOCK) - firstBlock + 1;
  const squares = new Float64Array(Math.max(0, blocks) * LAGS);
  const products = new Float64Array(LAGS);
  const energy = new Float64Array(LAGS);
  const whole = runs(b);
  let [cells, own] = [0, 0];
  for (let x = 0; x < a.length; x++) {
    const at = x + ahead;
    if (Number.isNaN(a[x]!) || !(whole[at + REACH]! >= LAGS)) continue;
    const row = (Math.floor((one.first + x) / BLOCK) - firstBlock) * LAGS;
    cells += 1;
    own += a[x]! ** 2;
    for (let k = 0; k < LAGS; k++) {
      const value = b[at - REACH + k]!;
      squares[row + k]! += (value - a[x]!) ** 2;
      products[k]! += value * a[x]!;
      energy[k]! += value * value;
    }
  }
  const correlation = products.map((sum, k) => sum / Math.sqrt(own * energy[k]!) || 0);
  return { firstBlock, squares, correlation, cells };
}

/** For each cell, how many cells up to it have a value without a break. */
function runs(values: Float64Array): Int32Array {
  const run = new Int32Array(values.length);
  for (let g = 0; g < values.length; g++) {
    run[g] = Number.isNaN(values[g]!) ? 0 : (run[g - 1] ?? 0) + 1;
  }
  return run;
}

/** The lag at which the channels together are most alike: Σ −½ ln(1 − r²), positive r only. */
function bestLag(sums: readonly BlockSums[]): number {
  const score = Array.from({ length: LAGS }, (_, k) =>
    sums.reduce((sum, { correlation }) => {
      const r = Math.min(0.99, Math.max(0, correlation[k]!));
      return sum - Math.log(1 - r * r) / 2;
    }, 0),
  );
  return score.indexOf(Math.max(...score));
}

function weighted(sums: readonly BlockSums[], weights: readonly number[]): BlockScores {
  const { firstBlock, squares } = sums[0]!;
  const all = Array.from({ length: squares.length / LAGS }, (_, block) => {
    const score = new Float64Array(LAGS);
    for (const [c, sum] of sums.entries()) {
      for (let k = 0; k < LAGS; k++)
        score[k]! -= (weights[c]! * sum.squares[block * LAGS + k]!) / 2;
    }
    return { middle_m: (firstBlock + block + 0.5) * BLOCK_M, score };
  });
  const filled = all.filter(({ score }) => score.some((value) => value !== 0));
  return {
    middle_m: filled.map(({ middle_m }) => middle_m),
    score: filled.map(({ score }) => score),
  };
}
