import { chiSquareTail } from "../../numerics/chi-square.js";
import { type BlockScores, hasRival, peakOf, summed, windowsOf } from "./block-scores.js";
import { type EvenShift, LEAST_SD_M } from "./even-shift.js";

/** A shift along the bank. */
export interface ShiftAlong {
  /** Mean over the bank compared, and its standard deviation, m. */
  readonly mean_m: number;
  readonly sd_m: number;
  /** Chainages with the shift there and its standard deviation, m; one where it is the same all along. */
  readonly at_m: readonly number[];
  readonly shift_m: readonly number[];
  readonly shiftSd_m: readonly number[];
}

/** Shifts this far apart along the bank have little to do with each other, m. */
const WANDERS_OVER_M = 300;
/** Smoothed positions wander by less than this anyway, m. */
const LEAST_WANDER_M = 0.3;
/** Stretches that chance makes disagree more seldom than this disagree. */
const SELDOM = 0.001;
/** Fewer stretches than this do not tell wandering from a slip of one of them. */
const LEAST_STRETCHES = 5;

/**
 * The shift as it wanders along the bank where stretches of 100 m disagree by more than chance
 * allows (Cochran's test at 0.1 %), else the same all along. Deviations from the mean are an
 * Ornstein–Uhlenbeck process of 300 m whose variance is that of DerSimonian & Laird 1986
 * (Controlled Clinical Trials 7, 177–188).
 */
export function wanderingShift(blocks: BlockScores, even: EvenShift): ShiftAlong {
  const windows = windowsOf(blocks).flatMap(({ middle_m, score }) => {
    const all = summed(score);
    const peak = peakOf(all, even.mean_m);
    if (peak === null || hasRival(all, peak.at_m)) return [];
    const at_m = middle_m.reduce((sum, x) => sum + x, 0) / middle_m.length;
    return [{ at_m, shift_m: peak.at_m, variance: even.factor / peak.curvature + LEAST_SD_M ** 2 }];
  });
  const between = varianceBetween(windows);
  if (between === 0) {
    const middle = blocks.middle_m[blocks.middle_m.length >> 1]!;
    return { ...even, at_m: [middle], shift_m: [even.mean_m], shiftSd_m: [even.sd_m] };
  }
  const weights = windows.map(({ variance }) => 1 / (variance + between));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = windows.reduce((sum, { shift_m }, k) => sum + weights[k]! * shift_m, 0) / total;
  return { sd_m: 1 / Math.sqrt(total), ...smoothed(windows, { mean, between }) };
}

interface Window {
  readonly at_m: number;
  readonly shift_m: number;
  readonly variance: number;
}

function varianceBetween(windows: readonly Window[]): number {
  if (windows.length < LEAST_STRETCHES) return 0;
  const weights = windows.map(({ variance }) => 1 / variance);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = windows.reduce((sum, { shift_m }, k) => sum + weights[k]! * shift_m, 0) / total;
  const q = windows.reduce((sum, { shift_m }, k) => sum + weights[k]! * (shift_m - mean) ** 2, 0);
  const dof = windows.length - 1;
  if (!(chiSquareTail(q, dof) < SELDOM)) return 0;
  const squares = weights.reduce((sum, weight) => sum + weight * weight, 0);
  const between = (q - dof) / (total - squares / total);
  return between >= LEAST_WANDER_M ** 2 ? between : 0;
}

/** Both ways over the windows; each way hands on mean and variance of the deviation. */
function smoothed(windows: readonly Window[], prior: { mean: number; between: number }) {
  const { mean, between } = prior;
  const oneWay = (ordered: readonly Window[]) => {
    let [m, v, last] = [0, between, Number.NaN];
    return ordered.map(({ at_m, shift_m, variance }) => {
      const keep = Number.isNaN(last) ? 0 : Math.exp(-Math.abs(at_m - last) / WANDERS_OVER_M);
      [m, v, last] = [keep * m, keep * keep * v + (1 - keep * keep) * between, at_m];
      const before = { m, v };
      const gain = v / (v + variance);
      [m, v] = [m + gain * (shift_m - mean - m), v * (1 - gain)];
      return { before, after: { m, v } };
    });
  };
  const onward = oneWay(windows);
  const back = oneWay(windows.toReversed()).toReversed();
  // What is known at a window: up to it from one side, what the other side foretells, the prior once.
  const both = windows.map((_, k) => {
    const [a, b] = [onward[k]!.after, back[k]!.before];
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
