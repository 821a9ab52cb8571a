import type { LineData } from "../line-data.js";
import { whitenRow } from "../line-equations.js";
import { HUBER, type Hyperparameters, type LineState, residualAt } from "../line-state.js";

/** Pseudo-data of unit residual that regularise each channel's scale towards 1. */
const PSEUDO_DATA = 20;

/**
 * The factor on each channel's stated deviations: one step of expectation-maximisation, mean of
 * residual² + gᵀ C g over the stations, with C the posterior covariance of the unknowns and g the
 * datum's derivatives to them. Residuals are clipped at `HUBER`. Source: Dempster, Laird & Rubin 1977.
 */
export function findNoiseScale(
  data: LineData,
  hyper: Hyperparameters,
  { state, covariance }: { readonly state: LineState; readonly covariance: Float64Array },
): Float64Array {
  const { n, c, m, q } = data;
  const residual = residualAt(data, hyper, state);
  const sum = new Float64Array(c).fill(PSEUDO_DATA);
  const count = new Float64Array(c).fill(PSEUDO_DATA);
  const row = new Float64Array(m);
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c; d++) {
      const scaled = residual(i, d);
      if (Number.isNaN(scaled)) continue;
      const scale = 1 / (data.sd_ppm[i * c + d]! * hyper.noiseScale[d]!);
      whitenRow(row, state.jacobian_ppm, {
        at: (i * c + d) * m,
        lower: hyper.prior.layers.factor,
        scale,
      });
      const walkError = {
        index: m + data.walk[d]!,
        value: data.walkSd * state.response_ppm[i * c + d]! * scale,
      };
      const spread = quadratic(covariance.subarray(i * q * q, (i + 1) * q * q), row, walkError);
      sum[d]! += Math.min(Math.abs(scaled), HUBER) ** 2 + spread;
      count[d]! += 1;
    }
  }
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
