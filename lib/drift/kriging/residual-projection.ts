import { choleskySolve } from "../../numerics/algebra/cholesky.js";
import type { SolvedDrift } from "./solve-drift.js";

/** The projection that takes the trend out of the data, in the metric of their covariance. */
export interface ResidualProjection {
  /** P = K⁻¹ − K⁻¹X(X'K⁻¹X)⁻¹X'K⁻¹, n × n. */
  readonly matrix: Float64Array;
  /** Leave-one-out prediction errors, (P y)ᵢ / Pᵢᵢ; NaN where the other data do not predict one. */
  readonly leaveOneOut: Float64Array;
}

/** A datum that keeps less than this share of its weight beside the trend cannot be predicted. */
const UNPREDICTABLE = 1e-7;

/** Source: Dubrule 1983, Mathematical Geology 15, 687–699 (leaving one out in closed form). */
export function residualProjection(solved: SolvedDrift): ResidualProjection {
  const { root, weighted, precision, dualWeights } = solved;
  const n = dualWeights.length;
  const matrix = new Float64Array(n * n);
  const unit = new Float64Array(n);
  const leaveOneOut = dualWeights.map((dual, i) => {
    unit.fill(0);
    unit[i] = 1;
    const row = choleskySolve(root, n, unit);
    const whole = row[i]!;
    const column = Float64Array.from(weighted, (one) => one[i]!);
    const share = choleskySolve(precision, column.length, column);
    for (const [a, one] of weighted.entries()) {
      for (let j = 0; j < n; j++) row[j]! -= one[j]! * share[a]!;
    }
    matrix.set(row, i * n);
    return row[i]! > UNPREDICTABLE * whole ? dual / row[i]! : Number.NaN;
  });
  return { matrix, leaveOneOut };
}
