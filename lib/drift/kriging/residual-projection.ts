import { choleskySolve } from "../../numerics/cholesky.js";
import type { SolvedDrift } from "./solve-drift.js";

/** The projection that takes the trend out of the data, in the metric of their covariance. */
export interface ResidualProjection {
  /** P = K⁻¹ − K⁻¹X(X'K⁻¹X)⁻¹X'K⁻¹, n × n. */
  readonly matrix: Float64Array;
  /** The diagonal of K⁻¹. */
  readonly diagonal: Float64Array;
}

export function residualProjection(solved: SolvedDrift): ResidualProjection {
  const { root, weighted, precision, dualWeights } = solved;
  const n = dualWeights.length;
  const matrix = new Float64Array(n * n);
  const diagonal = new Float64Array(n);
  const unit = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    unit.fill(0);
    unit[i] = 1;
    const row = choleskySolve(root, n, unit);
    diagonal[i] = row[i]!;
    const column = Float64Array.from(weighted, (one) => one[i]!);
    const share = choleskySolve(precision, column.length, column);
    for (const [a, one] of weighted.entries()) {
      for (let j = 0; j < n; j++) row[j]! -= one[j]! * share[a]!;
    }
    matrix.set(row, i * n);
  }
  return { matrix, diagonal };
}

/** A datum that keeps less than this share of its weight beside the trend cannot be predicted. */
const UNPREDICTABLE = 1e-7;

/**
 * Leave-one-out prediction errors in closed form, (P y)ᵢ / Pᵢᵢ; NaN for a datum that the others do
 * not predict.
 *
 * Source: Dubrule 1983, Mathematical Geology 15, 687–699.
 */
export function leaveOneOutErrors(
  { dualWeights }: SolvedDrift,
  { matrix, diagonal }: ResidualProjection,
): Float64Array {
  const n = dualWeights.length;
  return dualWeights.map((one, i) => {
    const own = matrix[i * n + i]!;
    return own > UNPREDICTABLE * diagonal[i]! ? one / own : Number.NaN;
  });
}
