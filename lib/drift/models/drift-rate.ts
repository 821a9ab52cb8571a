import { itemAt, lastOf } from "../../numerics/arrays.js";
import type { CheckVisit } from "../checks/visits.js";
import { driftFrame } from "../kriging/drift-frame.js";
import { solveDrift } from "../kriging/solve-drift.js";

export interface DriftRate {
  /** Slope, unit per second; NaN where no stretch holds two visits. */
  readonly perSecond: number;
  /** Standard error of the slope, widened where the visits scatter more than their errors. */
  readonly error: number;
}

/**
 * The slope that all stretches between level breaks share, each stretch with a level of its own:
 * weighted least squares with weights 1 / error², equal ones where the errors are not known.
 *
 * @param breaks indices of visits after which the level is free, such as at steps
 */
export function driftRate(visits: readonly CheckVisit[], breaks: ReadonlySet<number>): DriftRate {
  const level = visits[0]?.mean ?? 0;
  const data = visits.map(({ time_s, mean, error }) => {
    return { time_s, minus_s: Number.NaN, value: mean - level, error: error > 0 ? error : 1 };
  });
  const steps = [...breaks].map((after) => {
    return { kind: "step", time_s: itemAt(visits, after).time_s } as const;
  });
  const frame = driftFrame(data, [{ kind: "level" }, ...steps, { kind: "slope" }]);
  if (frame.terms.at(-1)?.kind !== "slope") return { perSecond: Number.NaN, error: Number.NaN };
  const none = new Float64Array(data.length ** 2);
  const { estimates, precision, dualWeights } = solveDrift(frame, none, 0);
  const freedom = data.length - frame.terms.length;
  const misfit = data.reduce((sum, { error }, i) => sum + (itemAt(dualWeights, i) * error) ** 2, 0);
  const widening = freedom > 0 ? Math.max(1, misfit / freedom) : 1;
  const span_s = frame.span_h * 3600;
  // The last entry of a Cholesky factor is 1 / the standard error of the last unknown.
  const error = Math.sqrt(widening) / lastOf(precision) / span_s;
  return { perSecond: lastOf(estimates) / span_s, error };
}
