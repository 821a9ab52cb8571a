import { symmetricEigen } from "../../numerics/algebra/dense.js";
import { firstOf } from "../../numerics/arrays.js";
import { adjacentDifferences, robustCorrelation } from "../noise/long-run-noise.js";

/**
 * As how many unrelated columns d columns count: d over the greatest eigenvalue of the correlations
 * of adjacent means over `window` samples. A likelihood of the columns one by one that is weighted
 * so is right for what is common to them, and cautious for what is not.
 */
export function unrelatedColumns(columns: readonly Float64Array[], window: number): number {
  const d = columns.length;
  const differences = columns.map((column) => adjacentDifferences(column, window));
  const correlation = Float64Array.from(
    differences.flatMap((one, a) =>
      differences.map((other, b) => (a === b ? 1 : robustCorrelation(one, other))),
    ),
  );
  return d / Math.min(d, Math.max(1, firstOf(symmetricEigen(correlation, d).value)));
}
