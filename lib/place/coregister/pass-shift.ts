import { firstOf, itemAt } from "../../numerics/arrays.js";
import type { BlockLikelihoods } from "./block-likelihoods.js";
import { constantShift } from "./constant-shift.js";
import { GRID_M, sharedChannels } from "./even-grid.js";
import type { PassProfile } from "./pass-profile.js";
import { type ShiftAlong, varyingShift } from "./varying-shift.js";

/** How far the second of two passes lies ahead of the first along the bank. */
export interface PassShift extends ShiftAlong {
  /** Weighted mean correlation of the shared channels at the best shift. */
  readonly correlation: number;
  /** Metres of bank compared. */
  readonly overlap_m: number;
}

/** Why there is no estimate of the shift of two passes. */
export type NoShift = "other line" | "no overlap" | "unlike" | "flat" | "beyond";

/** Shifts up to this are looked for, m; those within a metre of it are rejected. */
const FURTHEST_SHIFT_M = 6;
const REACH = FURTHEST_SHIFT_M / GRID_M;
const LAGS = 2 * REACH + 1;
const BLOCK_M = 25;
const BLOCK = BLOCK_M / GRID_M;
const LEAST_OVERLAP_M = 150;
/** Below this correlation there is no estimate. */
const LEAST_CORRELATION = 0.4;
/** Nor above this standard deviation, m. */
const LARGEST_SD_M = 0.5;

/**
 * How far the second pass lies ahead of the first: the shift at which the high-passed profiles of
 * their shared channels differ least.
 *
 * The sum over 25 m blocks of −½ Σ w (b(x + d) − a(x))² is a log likelihood but for a factor; w is
 * r / (1 − r²) with r the channel's correlation at the best shift, so that channels which agree in
 * both passes weigh most. The factor comes from the scatter of the blocks' own slopes, block by
 * block within 100 m, so that the standard deviation holds where noise and ground are correlated
 * from one reading to the next (a sandwich estimate: White 1982, Econometrica 50, 1–25). Where
 * stretches of 100 m disagree by more than that, the shift may vary along the bank
 * (`varyingShift`).
 */
export function shiftBetween(one: PassProfile, other: PassProfile): PassShift | NoShift {
  const sums = sharedChannels(one, other).map(([i, j]) =>
    blockSums(one, other, [itemAt(one.highPassed, i), itemAt(other.highPassed, j)]),
  );
  const overlap_m = Math.max(0, ...sums.map(({ cells }) => cells * GRID_M));
  if (!(overlap_m >= LEAST_OVERLAP_M)) return "no overlap";
  const best = bestLag(sums);
  const weighted = sums.map((channel) => {
    const r = Math.min(0.98, Math.max(0, itemAt(channel.correlation, best)));
    return { ...channel, r, weight: r / (1 - r * r) };
  });
  const total = weighted.reduce((sum, { weight }) => sum + weight, 0);
  const correlation = weighted.reduce((sum, { weight, r }) => sum + weight * r, 0) / total;
  if (!(correlation >= LEAST_CORRELATION)) return "unlike";
  if (Math.abs(best - REACH) * GRID_M > FURTHEST_SHIFT_M - 1) return "beyond";
  const blocks = likelihoodsOf(weighted);
  const constant = constantShift(blocks);
  if (constant === null || !(constant.sd_m <= LARGEST_SD_M)) return "flat";
  return { ...varyingShift(blocks, constant), correlation, overlap_m };
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
  for (const [g, value] of values.entries()) {
    run[g] = Number.isNaN(value) ? 0 : (run[g - 1] ?? 0) + 1;
  }
  return run;
}

/** The lag of the largest Σ −½ ln(1 − r²) over the channels, positive r only. */
function bestLag(sums: readonly BlockSums[]): number {
  const score = Array.from({ length: LAGS }, (_, k) =>
    sums.reduce((sum, { correlation }) => {
      const r = Math.min(0.99, Math.max(0, itemAt(correlation, k)));
      return sum - Math.log(1 - r * r) / 2;
    }, 0),
  );
  return score.indexOf(Math.max(...score));
}

/** The blocks that have cells. */
function likelihoodsOf(
  sums: readonly (BlockSums & { readonly weight: number })[],
): BlockLikelihoods {
  const { firstBlock, squares } = firstOf(sums);
  const all = Array.from({ length: squares.length / LAGS }, (_, block) => {
    const logLikelihood = new Float64Array(LAGS);
    for (const channel of sums) {
      const own = channel.squares.subarray(block * LAGS, (block + 1) * LAGS);
      for (const [k, square] of own.entries()) logLikelihood[k]! -= (channel.weight * square) / 2;
    }
    return { middle_m: (firstBlock + block + 0.5) * BLOCK_M, logLikelihood };
  });
  const filled = all.filter(({ logLikelihood }) => logLikelihood.some((value) => value !== 0));
  return {
    middle_m: filled.map(({ middle_m }) => middle_m),
    logLikelihood: filled.map(({ logLikelihood }) => logLikelihood),
  };
}
