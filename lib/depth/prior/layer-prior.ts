import { choleskyFactor } from "../../numerics/cholesky.js";

/** Prior on ln conductivity by depth, the same at every station. */
export interface LayerPrior {
  /** m × m lower factor of the covariance, row by row. */
  readonly factor: Float64Array;
  /** m variances. */
  readonly variance: Float64Array;
}

export interface LayerPriorOptions {
  /** Standard deviation of the whole column's level, ln units. */
  readonly levelSd: number;
  /** Standard deviation of a layer about the column's level, ln units. */
  readonly layerSd: number;
  /** Correlation length with depth, m. */
  readonly correlation_m: number;
}

/**
 * Gaussian prior on the ln conductivity of m layers: one shared level, and layers about it that
 * are correlated with depth: levelSd² + layerSd² exp(−|zi − zj| / correlation).
 * z is a layer's middle; of the last layer, its top plus half the thickness above it.
 */
export function layerPrior(top_m: Float64Array, options: LayerPriorOptions): LayerPrior {
  const m = top_m.length;
  const middle = Float64Array.from(top_m, (top, j) => {
    const thickness = j + 1 < m ? top_m[j + 1]! - top : top - (top_m[j - 1] ?? 0);
    return top + thickness / 2;
  });
  const covariance = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) {
      const correlation = Math.exp(-Math.abs(middle[i]! - middle[j]!) / options.correlation_m);
      covariance[i * m + j] = options.levelSd ** 2 + options.layerSd ** 2 * correlation;
    }
    covariance[i * m + i]! += 1e-9;
  }
  const variance = Float64Array.from({ length: m }, (_, i) => covariance[i * m + i]!);
  return { factor: choleskyFactor(covariance, m), variance };
}
