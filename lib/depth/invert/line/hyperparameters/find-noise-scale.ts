import type { LineData } from "../line-data.js";
import { whitenRow } from "../line-equations.js";
import { HUBER, type LineBelief, type LineState, residualAt } from "../line-state.js";

/** So many imagined data hold each channel's scale near 1. */
const IMAGINED = 20;

/**
 * The factor on each channel's stated deviations under which its residuals are as large as they
 * should be: one step of expectation-maximisation, mean of residual² + gᵀ C g over the stations,
 * with C the posterior covariance of the unknowns and g the datum's derivatives to them.
 * Residuals beyond `HUBER` count as that. Source: Dempster, Laird & Rubin 1977.
 */
export function findNoise(
  data: LineData,
  belief: LineBelief,
  { state, covariance }: { readonly state: LineState; readonly covariance: Float64Array },
): Float64Array {
  const { n, c, m, q } = data;
  const residual = residualAt(data, belief, state);
  const sum = new Float64Array(c).fill(IMAGINED);
  const count = new Float64Array(c).fill(IMAGINED);
  const row = new Float64Array(m);
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c; d++) {
      const left = residual(i, d);
      if (Number.isNaN(left)) continue;
      const scale = 1 / (data.sd_ppm[i * c + d]! * belief.noiseScale[d]!);
      whitenRow(row, state.jacobian_ppm, {
        at: (i * c + d) * m,
        lower: belief.prior.layers.factor,
        scale,
      });
      const own = {
        index: m + data.walk[d]!,
        value: data.walkSd * state.response_ppm[i * c + d]! * scale,
      };
      const spread = quadratic(covariance.subarray(i * q * q, (i + 1) * q * q), row, own);
      sum[d]! += Math.min(Math.abs(left), HUBER) ** 2 + spread;
      count[d]! += 1;
    }
  }
  return belief.noiseScale.map((value, d) =>
    Math.min(MOST, Math.max(LEAST, value * Math.sqrt(sum[d]! / count[d]!))),
  );
}

/** Bounds on the scale: beyond them the stated noise, not the scale, is to be looked at. */
const LEAST = 0.3;
const MOST = 5;

/** g C gᵀ of a row over the layers and one entry beyond them. */
function quadratic(
  matrix: Float64Array,
  row: Float64Array,
  own: { readonly index: number; readonly value: number },
): number {
  const q = Math.round(Math.sqrt(matrix.length));
  const apart = own.value !== 0;
  let sum = apart ? own.value ** 2 * matrix[own.index * q + own.index]! : 0;
  for (let i = 0; i < row.length; i++) {
    let inner = apart ? 2 * own.value * matrix[own.index * q + i]! : 0;
    for (let j = 0; j < row.length; j++) inner += matrix[i * q + j]! * row[j]!;
    sum += row[i]! * inner;
  }
  return sum;
}
