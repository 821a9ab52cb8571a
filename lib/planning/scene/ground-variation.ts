import { choleskyFactor } from "../../numerics/algebra/cholesky.js";

export interface GroundVariation {
  /** Standard deviation of the whole column's level, ln units. */
  readonly levelSd: number;
  /** Standard deviation of a layer about the column's level, ln units. */
  readonly layerSd: number;
  /** Correlation length over depth, m. */
  readonly correlation_m: number;
}

/** How banks ordinarily vary: what resolution is judged against. */
export const ORDINARY_VARIATION: GroundVariation = Object.freeze({
  levelSd: 1,
  layerSd: 0.7,
  correlation_m: 1,
});

/**
 * Lower factor, m × m, of the covariance of ln conductivity of layers with these tops: one shared
 * level, and layers about it, levelSd² + layerSd² exp(−|z_i − z_j| / correlation), z their middles
 * (of the last, its top plus half the thickness above it).
 */
export function variationFactor(
  top_m: ArrayLike<number>,
  variation: GroundVariation,
): Float64Array {
  const m = top_m.length;
  const { levelSd, layerSd, correlation_m } = variation;
  const middle = Array.from(top_m, (top, j) => {
    const thickness = j + 1 < m ? top_m[j + 1]! - top : top - (top_m[j - 1] ?? 0);
    return top + thickness / 2;
  });
  const covariance = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) {
      const correlation = Math.exp(-Math.abs(middle[i]! - middle[j]!) / correlation_m);
      covariance[i * m + j] = levelSd ** 2 + layerSd ** 2 * correlation;
    }
    covariance[i * m + i]! *= 1 + 1e-9;
  }
  return choleskyFactor(covariance, m);
}
