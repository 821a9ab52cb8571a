/** Share of the spread over depth that an effect on a channel may be off by. */
const DEPTH_ERROR = 0.4;
/** A layer that a channel sees less than this share of its best one decides nothing. */
const LEAST_SEEN = 1e-3;

/**
 * A channel sees what acts by depth, such as the season, as a mean over depths, and which depths,
 * the layers decide: the standard deviation of the effect over the depths that it sees, m values by
 * its sensitivity, for an effect of `rate` times each layer's part.
 */
export function depthError(sensitivity: Float64Array, rate: (layer: number) => number): number {
  let most = 0;
  for (let j = 0; j < sensitivity.length; j++) most = Math.max(most, Math.abs(sensitivity[j]!));
  let sum = 0;
  let mean = 0;
  let square = 0;
  for (let j = 0; j < sensitivity.length; j++) {
    const seen = Math.abs(sensitivity[j]!);
    if (!(seen > LEAST_SEEN * most)) continue;
    const here = rate(j);
    sum += seen;
    mean += seen * here;
    square += seen * here * here;
  }
  if (!(sum > 0)) return 0;
  return DEPTH_ERROR * sum * Math.sqrt(Math.max(0, square / sum - (mean / sum) ** 2));
}
