import { choleskyFactor } from "../../numerics/algebra/cholesky.js";
import type { GroundVariation } from "../../planning/scene/ground-variation.js";

/** Prior on ln conductivity by depth, the same at every station. */
export interface LayerPrior {
  /** m × m lower factor of the covariance, row by row. */
  readonly factor: Float64Array;
  /** m variances. */
  readonly variance: Float64Array;
}

/**
 * Gaussian prior on the ln conductivity of m layers: one shared level, and layers about it that
 * are correlated with depth: levelSd² + layerSd² exp(−|zi − zj| / correlation).
 * z is a layer's middle; of the last layer, its top plus half the thickness above it.
 */
export function layerPrior(top_m: Float64Array, options: GroundVariation): LayerPrior {
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

/** L C Lᵀ: covariance of ln conductivity, C the first m × m of q × q entries from `at` on. */
export function unwhitened(
  covariance: Float64Array,
  lower: Float64Array,
  { q, at }: { readonly q: number; readonly at: number },
): Float64Array {
  const m = Math.round(Math.sqrt(lower.length));
  const [half, out] = [new Float64Array(m * m), new Float64Array(m * m)];
  for (let i = 0; i < m; i++) {
    for (let k = 0; k <= i; k++) {
      const factor = lower[i * m + k]!;
      for (let j = 0; j < m; j++) half[i * m + j]! += factor * covariance[at + k * q + j]!;
    }
  }
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) {
      for (let k = 0; k <= j; k++) out[i * m + j]! += half[i * m + k]! * lower[j * m + k]!;
    }
  }
  return out;
}
