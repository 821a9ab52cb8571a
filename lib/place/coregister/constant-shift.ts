import {
  type BlockLikelihoods,
  isAmbiguous,
  parabolaAt,
  peakOf,
  summed,
  windowsOf,
} from "./block-likelihoods.js";

/** One shift for all blocks. */
export interface ConstantShift {
  readonly mean_m: number;
  readonly sd_m: number;
  /** The curvature of the log likelihood over the information, 1/m². */
  readonly factor: number;
}

/** Standard deviation that smaller variations along the bank leave in the mean of a stretch, m. */
export const LEAST_SD_M = 0.1;
/** The log likelihood falls by this some way from the best shift, or there is no answer. */
const CLEARLY = 8;

/**
 * The maximum-likelihood shift of all blocks; null where there is none, and where the blocks are
 * too few to estimate its standard deviation.
 */
export function constantShift(blocks: BlockLikelihoods): ConstantShift | null {
  const whole = summed(blocks);
  const peak = peakOf(whole);
  if (peak === null) return null;
  let [scatter, curvature, freedom] = [0, 0, 0];
  for (const window of windowsOf(blocks)) {
    const sum = summed(window);
    const own = peakOf(sum, peak.at_m) ?? peak;
    curvature += parabolaAt(sum, peak.at_m).curvature;
    const { length } = window.logLikelihood;
    if (length < 2) continue;
    const slopes = window.logLikelihood.map((one) => parabolaAt(one, own.at_m).slope);
    const squares = slopes.reduce((total, slope) => total + slope * slope, 0);
    scatter += (squares * length) / (length - 1);
    freedom += length - 1;
  }
  if (freedom < 3 || !(curvature > 0)) return null;
  // The variance of Student's t for as many degrees of freedom as the scatter is known by.
  const factor = (scatter / curvature) * (freedom / (freedom - 2));
  if (isAmbiguous(whole, peak.at_m, CLEARLY * factor)) return null;
  return { mean_m: peak.at_m, sd_m: Math.sqrt(factor / peak.curvature + LEAST_SD_M ** 2), factor };
}
