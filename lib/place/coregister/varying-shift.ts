import { itemAt, zipped } from "../../numerics/arrays.js";
import { chiSquareTail } from "../../numerics/statistics/chi-square.js";
import {
  type BlockLikelihoods,
  isAmbiguous,
  peakOf,
  summed,
  windowsOf,
} from "./block-likelihoods.js";
import { type ConstantShift, LEAST_SD_M } from "./constant-shift.js";

/** A shift along the bank. */
export interface ShiftAlong {
  /** Mean over the bank compared, and its standard deviation, m. */
  readonly mean_m: number;
  readonly sd_m: number;
  /** Chainages of the shifts, m; one where the shift is the same all along. */
  readonly at_m: readonly number[];
  readonly shift_m: readonly number[];
  readonly shiftSd_m: readonly number[];
}

/** Correlation length of the shift along the bank, m. */
const CORRELATED_OVER_M = 300;
/** Smoothed positions vary by less than this anyway, m. */
const LEAST_VARIATION_M = 0.3;
/** Significance level of the test of homogeneity. */
const LEVEL = 0.001;
/** Fewer stretches than this do not separate variation from an error in one of them. */
const LEAST_STRETCHES = 5;

/**
 * The shift as it varies along the bank where stretches of 100 m disagree by more than chance
 * allows (Cochran's test at 0.1 %), else the same all along. Deviations from the mean are an
 * Ornstein–Uhlenbeck process of 300 m whose variance is that of DerSimonian & Laird 1986
 * (Controlled Clinical Trials 7, 177–188).
 */
export function varyingShift(blocks: BlockLikelihoods, constant: ConstantShift): ShiftAlong {
  const windows = windowsOf(blocks).flatMap((window) => windowShift(window, constant));
  const between = varianceBetween(windows);
  if (between === 0) {
    const middle_m = itemAt(blocks.middle_m, blocks.middle_m.length >> 1);
    const { mean_m, sd_m } = constant;
    return { mean_m, sd_m, at_m: [middle_m], shift_m: [mean_m], shiftSd_m: [sd_m] };
  }
  const { mean, total } = weightedMean(windows, between);
  return { sd_m: 1 / Math.sqrt(total), ...smoothed(windows, { mean, between }) };
}

interface WindowShift {
  readonly at_m: number;
  readonly shift_m: number;
  readonly variance: number;
}

function windowShift(window: BlockLikelihoods, constant: ConstantShift): readonly WindowShift[] {
  const { middle_m } = window;
  const sum = summed(window);
  const peak = peakOf(sum, constant.mean_m);
  if (peak === null || isAmbiguous(sum, peak.at_m)) return [];
  const at_m = middle_m.reduce((total, x) => total + x, 0) / middle_m.length;
  const variance = constant.factor / peak.curvature + LEAST_SD_M ** 2;
  return [{ at_m, shift_m: peak.at_m, variance }];
}

function weightedMean(windows: readonly WindowShift[], between: number) {
  const weighted = windows.map((one) => ({ ...one, weight: 1 / (one.variance + between) }));
  const total = weighted.reduce((sum, { weight }) => sum + weight, 0);
  const mean = weighted.reduce((sum, { shift_m, weight }) => sum + weight * shift_m, 0) / total;
  return { weighted, total, mean };
}

function varianceBetween(windows: readonly WindowShift[]): number {
  if (windows.length < LEAST_STRETCHES) return 0;
  const { weighted, total, mean } = weightedMean(windows, 0);
  const q = weighted.reduce((sum, { shift_m, weight }) => sum + weight * (shift_m - mean) ** 2, 0);
  const dof = windows.length - 1;
  if (!(chiSquareTail(q, dof) < LEVEL)) return 0;
  const squares = weighted.reduce((sum, { weight }) => sum + weight * weight, 0);
  const between = (q - dof) / (total - squares / total);
  return between >= LEAST_VARIATION_M ** 2 ? between : 0;
}

/** Both ways over the windows; each way hands on mean and variance of the deviation. */
function smoothed(windows: readonly WindowShift[], prior: { mean: number; between: number }) {
  const { mean, between } = prior;
  const oneWay = (ordered: readonly WindowShift[]) => {
    let [m, v, last] = [0, between, Number.NaN];
    return ordered.map(({ at_m, shift_m, variance }) => {
      const keep = Number.isNaN(last) ? 0 : Math.exp(-Math.abs(at_m - last) / CORRELATED_OVER_M);
      [m, v, last] = [keep * m, keep * keep * v + (1 - keep * keep) * between, at_m];
      const predicted = { m, v };
      const gain = v / (v + variance);
      [m, v] = [m + gain * (shift_m - mean - m), v * (1 - gain)];
      return { predicted, filtered: { m, v } };
    });
  };
  const onward = oneWay(windows);
  const back = oneWay(windows.toReversed()).toReversed();
  // Filtered from one side, predicted from the other, the prior counted once.
  const both = zipped(onward, back).map(([{ filtered: a }, { predicted: b }]) => {
    const precision = 1 / a.v + 1 / b.v - 1 / between;
    return { mean: (a.m / a.v + b.m / b.v) / precision, sd: 1 / Math.sqrt(precision) };
  });
  return {
    mean_m: mean,
    at_m: windows.map(({ at_m }) => at_m),
    shift_m: both.map((one) => mean + one.mean),
    shiftSd_m: both.map(({ sd }) => sd),
  };
}
