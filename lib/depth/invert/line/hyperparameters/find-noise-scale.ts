import { whitenRow } from "../line-equations.js";
import { deviationOf, forEachDatum, HUBER, type LineState } from "../line-state.js";

/** Pseudo-data of unit residual that regularise each channel's scale towards 1. */
const PSEUDO_DATA = 20;

/**
 * The factor on each channel's stated deviations: one step of expectation-maximisation, mean of
 * residual² + gᵀ C g over the stations, with C the posterior covariance of the unknowns and g the
 * datum's derivatives to them. Residuals are clipped at `HUBER`.
 * Source: Dempster, Laird & Rubin 1977.
 */
export function findNoiseScale(state: LineState, covariance: Float64Array): Float64Array {
  const { data, hyper, jacobian_ppm, response_ppm } = state;
  const { c, m, q, walk, walkSd } = data;
  const { factor: lower } = hyper.prior.layers;
  const sum = new Float64Array(c).fill(PSEUDO_DATA);
  const count = new Float64Array(c).fill(PSEUDO_DATA);
  const row = new Float64Array(m);
  forEachDatum(state, (i, d, residual) => {
    const at = i * c + d;
    const scale = 1 / deviationOf(state, i, d);
    whitenRow(row, jacobian_ppm, { at: at * m, lower, scale });
    const walkError = { index: m + walk[d]!, value: walkSd * response_ppm[at]! * scale };
    const spread = quadratic(covariance.subarray(i * q * q, (i + 1) * q * q), row, walkError);
    sum[d]! += Math.min(Math.abs(residual), HUBER) ** 2 + spread;
    count[d]! += 1;
  });
  return hyper.noiseScale.map((value, d) =>
    Math.min(MOST, Math.max(LEAST, value * Math.sqrt(sum[d]! / count[d]!))),
  );
}

/** Bounds on the scale: beyond them the stated noise itself is at fault. */
const LEAST = 0.3;
const MOST = 5;

/** g C gᵀ of a row over the layers and one entry beyond them. */
function quadratic(
  matrix: Float64Array,
  row: Float64Array,
  walkError: { readonly index: number; readonly value: number },
): number {
  const q = Math.round(Math.sqrt(matrix.length));
  const apart = walkError.value !== 0;
  let sum = apart ? walkError.value ** 2 * matrix[walkError.index * q + walkError.index]! : 0;
  for (let i = 0; i < row.length; i++) {
    let inner = apart ? 2 * walkError.value * matrix[walkError.index * q + i]! : 0;
    for (let j = 0; j < row.length; j++) inner += matrix[i * q + j]! * row[j]!;
    sum += row[i]! * inner;
  }
  return sum;
}
