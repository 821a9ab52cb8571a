import { blockBackSolve } from "../../../numerics/algebra/block-solve.js";
import { forwardSolve } from "../../../numerics/algebra/cholesky.js";
import { selectedInverse } from "../../../numerics/algebra/selected-inverse.js";
import { unwhitened } from "../../prior/layer-prior.js";
import { correlations, fromModel, timesPrecision, toModel } from "../../prior/line-prior.js";
import {
  type LineEquations,
  lineEquations,
  type MapEstimate,
  solveLine,
} from "./line-equations.js";

/**
 * n posterior covariances of a station's unknowns, q × q each in one array: the blocks of the
 * inverse on the diagonal (selected inverse), and what the channels' errors add,
 * A⁻¹ + Z S⁻¹ Zᵀ with Z = A⁻¹ C. Source: Rue & Held 2005, section 2.4; the inverse of a bordered
 * matrix.
 */
export function whitenedCovariances(equations: LineEquations, q: number): Float64Array {
  const covariance = selectedInverse(equations.factor).diagonal;
  const { b, border } = equations;
  const z = equations.halfway.slice();
  blockBackSolve(equations.factor, z, b);
  const rows = new Float64Array(z.length);
  for (let r = 0; r < z.length; r += b) {
    rows.set(forwardSolve(border, b, z.subarray(r, r + b)), r);
  }
  const n = z.length / (b * q);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < q; j++) {
      const left = (i * q + j) * b;
      for (let k = 0; k <= j; k++) {
        const right = (i * q + k) * b;
        let sum = 0;
        for (let e = 0; e < b; e++) sum += rows[left + e]! * rows[right + e]!;
        covariance[(i * q + j) * q + k]! += sum;
        if (k < j) covariance[(i * q + k) * q + j]! += sum;
      }
    }
  }
  return covariance;
}

/** Relative step of the prior's precision in the finite difference. */
const NUDGE = 0.01;

/**
 * The part of the covariances that comes from the readings' noise: C − C Q C, with Q the prior's
 * precision; C Q C is the derivative of −C to a factor on Q, by finite difference. The channels'
 * errors are left out: they are constant along the line, and a repeat is levelled.
 * Source: Rodgers 2000, equation 3.19.
 */
export function whitenedNoise(map: MapEstimate): Float64Array {
  const covariance = selectedInverse(map.equations.factor).diagonal;
  const nudged = lineEquations(map, 1 + NUDGE);
  const shifted = selectedInverse(nudged.factor).diagonal;
  return shifted.map((value, at) => covariance[at]! + (value - covariance[at]!) / NUDGE);
}

/** Covariances of ln conductivity, station by station, of n × q × q whitened unknowns. */
export function lnCovariances(covariance: Float64Array, lower: Float64Array, q: number) {
  return Array.from({ length: covariance.length / (q * q) }, (_, i) =>
    unwhitened(covariance, lower, { q, at: i * q * q }),
  );
}

/**
 * The resolution matrix I − C Q times a change (m values) that is the same along the whole line:
 * the change of the estimate of ln conductivity, n × m. Source: Rodgers 2000, section 2.4.
 */
export function timesLineResolution(
  change: Float64Array,
  { equations, hyper, data }: Pick<MapEstimate, "equations" | "hyper" | "data">,
): Float64Array {
  const { n, q } = data;
  const { layers } = hyper.prior;
  const everywhere = new Float64Array(n * change.length);
  for (let i = 0; i < n; i++) everywhere.set(change, i * change.length);
  const u = fromModel(layers, everywhere, { mean: 0, u: new Float64Array(n * q), q });
  const weighted = timesPrecision(u, correlations(hyper.prior, data));
  const prior = solveLine(equations, weighted, new Float64Array(equations.b)).u;
  return toModel(layers, 0, { u: u.map((value, k) => value - prior[k]!), q });
}
