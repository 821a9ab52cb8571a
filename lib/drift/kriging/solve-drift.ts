import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
} from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import type { DriftFrame } from "./drift-frame.js";

/** A frame solved for one rate of its process (variance per unit of its covariance). */
export interface SolvedDrift {
  readonly rate: number;
  /** Cholesky factor of the data's covariance K. */
  readonly root: Float64Array;
  /** K⁻¹X by columns, X the design matrix. */
  readonly weighted: readonly Float64Array[];
  /** Cholesky factor of X'K⁻¹X, the terms' precision. */
  readonly precision: Float64Array;
  /** β, the terms by generalised least squares. */
  readonly estimates: Float64Array;
  /** K⁻¹(y − Xβ), the weights of dual kriging. */
  readonly dualWeights: Float64Array;
  /** Restricted log-likelihood (Patterson & Thompson 1971), up to a constant. */
  readonly logLikelihood: number;
}

/** @param processCovariance n × n covariance of the process in the data, at unit rate */
export function solveDrift(
  { data, design }: Pick<DriftFrame, "data" | "design">,
  processCovariance: Float64Array,
  rate: number,
): SolvedDrift {
  const [n, p] = [data.length, design.length];
  const covariance = processCovariance.map((value) => rate * value);
  for (const [i, { error }] of data.entries()) covariance[i * n + i]! += error * error;
  const root = choleskyFactor(covariance, n);
  const solve = (right: Float64Array) => choleskySolve(root, n, right);
  const weighted = design.map(solve);
  const normal = Float64Array.from(
    design.flatMap((one) => weighted.map((other) => dot(one, other))),
  );
  const precision = choleskyFactor(normal, p);
  const y = Float64Array.from(data, ({ value }) => value);
  const right = Float64Array.from(weighted, (column) => dot(column, y));
  const estimates = choleskySolve(precision, p, right);
  const misfit = y.map((value, i) =>
    design.reduce((left, column, a) => left - column[i]! * estimates[a]!, value),
  );
  const dualWeights = solve(misfit);
  const logLikelihood =
    -choleskyLogDeterminant(root, n) / 2 -
    choleskyLogDeterminant(precision, p) / 2 -
    dot(misfit, dualWeights) / 2;
  return { rate, root, weighted, precision, estimates, dualWeights, logLikelihood };
}
