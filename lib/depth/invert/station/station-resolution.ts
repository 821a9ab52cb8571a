import { choleskySolve } from "../../../numerics/algebra/cholesky.js";
import type { LayerPrior } from "../../prior/layer-prior.js";

/**
 * Each station's resolution matrix I − C P⁻¹ times a change of its layers, with posterior
 * covariance C and prior covariance P. n × m, NaN where a station has no estimate.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4.
 */
export function stationResolution(
  covariance: readonly (Float64Array | null)[],
  prior: LayerPrior,
): (change: Float64Array) => Float64Array {
  const m = prior.variance.length;
  return (change) => {
    const solved = choleskySolve(prior.factor, m, change);
    const out = new Float64Array(covariance.length * m).fill(Number.NaN);
    for (const [i, matrix] of covariance.entries()) {
      if (matrix === null) continue;
      for (let j = 0; j < m; j++) {
        let fromPrior = 0;
        for (let k = 0; k < m; k++) fromPrior += matrix[j * m + k]! * solved[k]!;
        out[i * m + j] = change[j]! - fromPrior;
      }
    }
    return out;
  };
}
