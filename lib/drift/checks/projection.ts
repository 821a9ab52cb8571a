import { choleskySolve } from "../../numerics/cholesky.js";
import type { SolvedDrift } from "../models/drift-system.js";

/** What a solved system makes of each datum beside the others. */
export interface Projection {
  /** P = K⁻¹ − K⁻¹X(X'K⁻¹X)⁻¹X'K⁻¹, n × n. */
  readonly matrix: Float64Array;
  /** The diagonal of K⁻¹. */
  readonly alone: Float64Array;
}

export function projectionOf({ root, weighted, precision, pull }: SolvedDrift): Projection {
  const n = pull.length;
  const matrix = new Float64Array(n * n);
  const alone = new Float64Array(n);
  const unit = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    unit.fill(0);
    unit[i] = 1;
    const row = choleskySolve(root, n, unit);
    alone[i] = row[i]!;
    const column = Float64Array.from(weighted, (one) => one[i]!);
    const share = choleskySolve(precision, column.length, column);
    for (const [a, one] of weighted.entries()) {
      for (let j = 0; j < n; j++) row[j]! -= one[j]! * share[a]!;
    }
    matrix.set(row, i * n);
  }
  return { matrix, alone };
}

/** A datum that keeps less than this share of itself beside the unknowns cannot be foretold. */
const LOST = 1e-7;

/**
 * By how much each datum misses what all others foretell, (P y)ᵢ / Pᵢᵢ; NaN where they cannot.
 *
 * Source: Dubrule 1983, Mathematical Geology 15, 687–699.
 */
export function missesBy({ pull }: SolvedDrift, { matrix, alone }: Projection): Float64Array {
  const n = pull.length;
  return pull.map((one, i) => {
    const own = matrix[i * n + i]!;
    return own > LOST * alone[i]! ? one / own : Number.NaN;
  });
}
