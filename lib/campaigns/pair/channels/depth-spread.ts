import { itemAt } from "../../../numerics/arrays.js";

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
  const most = sensitivity.reduce((high, v) => Math.max(high, Math.abs(v)), 0);
  let [sum, mean, square] = [0, 0, 0];
  for (const j of sensitivity.keys()) {
    const seen = Math.abs(itemAt(sensitivity, j));
    if (!(seen > LEAST_SEEN * most)) continue;
    const here = rate(j);
    [sum, mean, square] = [sum + seen, mean + seen * here, square + seen * here * here];
  }
  if (!(sum > 0)) return 0;
  return DEPTH_ERROR * sum * Math.sqrt(Math.max(0, square / sum - (mean / sum) ** 2));
}
