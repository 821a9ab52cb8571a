import { choleskySolve } from "../../../numerics/cholesky.js";
import type { LayerPrior } from "../../prior/layer-prior.js";

/**
 * How the estimates answer to a change of the layers at the station: I − C P⁻¹ times the change,
 * with posterior covariance C and prior covariance P. n × m, NaN where a station has no estimate.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4.
 */
export function localAnswers(
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
        let held = 0;
        for (let k = 0; k < m; k++) held += matrix[j * m + k]! * solved[k]!;
        out[i * m + j] = change[j]! - held;
      }
    }
    return out;
  };
}
