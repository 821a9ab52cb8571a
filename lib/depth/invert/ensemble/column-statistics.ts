import { choleskyFactor, choleskySolve } from "../../../numerics/algebra/cholesky.js";
import type { LayerPrior } from "../../prior/layer-prior.js";

/** Mean and covariance, ln units, of rows of m values; null where a value is missing. */
export interface ColumnMoments {
  readonly mean: Float64Array;
  readonly covariance: Float64Array;
}

/** The moments of draws. */
export function columnMoments(rows: Float32Array, m: number): ColumnMoments | null {
  const count = rows.length / m;
  if (Number.isNaN(rows[0]!)) return null;
  const mean = new Float64Array(m);
  const covariance = new Float64Array(m * m);
  for (let at = 0; at < rows.length; at++) mean[at % m]! += rows[at]! / count;
  for (let row = 0; row < count; row++) {
    for (let i = 0; i < m; i++) {
      const off = (rows[row * m + i]! - mean[i]!) / (count - 1);
      for (let j = 0; j <= i; j++) {
        covariance[i * m + j]! += off * (rows[row * m + j]! - mean[j]!);
      }
    }
  }
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) covariance[j * m + i] = covariance[i * m + j]!;
  }
  return { mean, covariance };
}

/** The Gaussian of the prior's columns; its diagonal is raised so that it is positive definite. */
export function gaussianOf(columns: Float32Array, m: number): LayerPrior {
  const { covariance } = columnMoments(columns, m)!;
  const variance = Float64Array.from({ length: m }, (_, i) => covariance[i * m + i]!);
  for (let i = 0; i < m; i++) covariance[i * m + i]! *= 1.001;
  return { factor: choleskyFactor(covariance, m), variance };
}

/**
 * Of a posterior covariance C under a prior P the part that comes from the readings' noise,
 * C − C P⁻¹ C, and the independent levels trace(I − P⁻¹ C), at least 0.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 3.2.
 */
export function fromReadings(covariance: Float64Array, prior: LayerPrior) {
  const m = prior.variance.length;
  const noise = covariance.slice();
  let levels = m;
  for (let j = 0; j < m; j++) {
    const column = Float64Array.from({ length: m }, (_, i) => covariance[i * m + j]!);
    const solved = choleskySolve(prior.factor, m, column);
    levels -= solved[j]!;
    for (let i = 0; i < m; i++) {
      for (let l = 0; l < m; l++) noise[i * m + j]! -= covariance[i * m + l]! * solved[l]!;
    }
  }
  return { noise, levels: Math.max(0, levels) };
}
