import {
  type BlockScores,
  hasRival,
  parabolaAt,
  peakOf,
  summed,
  windowsOf,
} from "./block-scores.js";

/** One shift for all blocks. */
export interface EvenShift {
  readonly mean_m: number;
  readonly sd_m: number;
  /** What the curvature of the scores is to be divided by to be an information, 1/m². */
  readonly factor: number;
}

/** What wandering under that leaves of doubt in a mean over a stretch, m. */
export const LEAST_SD_M = 0.1;
/** The best shift is likelier than any some way from it by this in log likelihood, or is no answer. */
const CLEARLY = 8;

/** The peak of all scores together; null where there is none, or too few blocks to say how sure it is. */
export function evenShift(blocks: BlockScores): EvenShift | null {
  const peak = peakOf(summed(blocks.score));
  if (peak === null) return null;
  let [scatter, curvature, freedom] = [0, 0, 0];
  for (const { score } of windowsOf(blocks)) {
    const own = peakOf(summed(score), peak.at_m) ?? peak;
    curvature += parabolaAt(summed(score), peak.at_m).curvature;
    if (score.length < 2) continue;
    const slopes = score.map((one) => parabolaAt(one, own.at_m).slope);
    const squares = slopes.reduce((sum, slope) => sum + slope * slope, 0);
    scatter += (squares * score.length) / (score.length - 1);
    freedom += score.length - 1;
  }
  if (freedom < 3 || !(curvature > 0)) return null;
  // The variance of Student's t for as many degrees of freedom as the scatter is known by.
  const factor = (scatter / curvature) * (freedom / (freedom - 2));
  if (hasRival(summed(blocks.score), peak.at_m, CLEARLY * factor)) return null;
  return { mean_m: peak.at_m, sd_m: Math.sqrt(factor / peak.curvature + LEAST_SD_M ** 2), factor };
}
