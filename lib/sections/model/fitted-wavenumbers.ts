import { leastSquares } from "../../numerics/algebra/dense.js";
import { besselK0 } from "../../numerics/functions/modified-bessel.js";
import type { WavenumberRange, Wavenumbers } from "../wavenumbers.js";

/** First and last node, over the reciprocal of the farthest and of the nearest distance. */
const ENDS = [0.3, 3.5] as const;
/** Distances that are fitted, for each node. */
const FITTED = 8;

/**
 * Fewer nodes than the trapezoidal rule asks for: evenly spaced in ln k, with the weights that make
 * ∫ K0(k r) dk = π/2r best over the range of distances in the least-squares sense. The relative
 * error is below 1e-4 up to a step of 0.9, 1.5e-4 at 0.96, 7e-4 at 1.1.
 *
 * Source: the fit of weights as in Xu, Duan & Zhang 2000, Geophysical Prospecting 48, 331.
 */
export function fittedWavenumbers({ nearest_m, farthest_m, step }: WavenumberRange): Wavenumbers {
  const [low, high] = [Math.log(ENDS[0] / farthest_m), Math.log(ENDS[1] / nearest_m)];
  const count = 1 + Math.ceil((high - low) / step);
  const at = (share: number) => Math.exp(low + share * (high - low));
  const k = Float64Array.from({ length: count }, (_, i) => at(i / (count - 1)));
  const distances = FITTED * count;
  const ratio = farthest_m / nearest_m;
  const matrix = new Float64Array(distances * count);
  for (let i = 0; i < distances; i++) {
    const r = nearest_m * ratio ** (i / (distances - 1));
    for (let j = 0; j < count; j++) matrix[i * count + j] = (2 / Math.PI) * r * besselK0(k[j]! * r);
  }
  return { k_per_m: k, weight: leastSquares(matrix, new Float64Array(distances).fill(1)) };
}
