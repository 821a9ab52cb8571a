import type { FoundStep } from "../checks/find-steps.js";
import type { CheckVisit } from "../checks/visits.js";
import { curveOf, type DriftCurve, type Knot } from "./drift-curve.js";

/** The curve through the visits' means, from the first as reference level; steps stay sharp. */
export function piecewiseCurve(
  visits: readonly CheckVisit[],
  steps: readonly FoundStep[],
  perSecond: number,
): DriftCurve {
  const slope = Number.isFinite(perSecond) ? perSecond : 0;
  const [first] = visits;
  const level = first?.mean ?? 0;
  const sdOf = (visit: CheckVisit) =>
    visit !== first && visit.error > 0 ? Math.hypot(visit.error, first?.error ?? 0) : 0;
  const knots = visits.flatMap((visit, i): Knot[] => {
    const { time_s, mean } = visit;
    const knot: Knot = [time_s, mean - level, sdOf(visit)];
    const step = steps.find(({ after }) => after === i);
    const next = visits[i + 1];
    if (step === undefined || next === undefined) return [knot];
    const before = mean - level + slope * (step.time_s - time_s);
    const after = next.mean - level - slope * (next.time_s - step.time_s);
    return [knot, [step.time_s, before, sdOf(visit)], [step.time_s, after, sdOf(next)]];
  });
  return curveOf(knots, { perSecond: slope, variancePerSecond: 0 });
}

/**
 * By how much each visit lies off the straight line between its neighbours; NaN at the ends, and
 * beside a step.
 */
export function piecewiseErrors(
  visits: readonly CheckVisit[],
  steps: readonly FoundStep[],
): Float64Array {
  const breaks = new Set(steps.map(({ after }) => after));
  return Float64Array.from(visits, ({ mean, time_s }, i) => {
    const [before, after] = [visits[i - 1], visits[i + 1]];
    if (before === undefined || after === undefined) return Number.NaN;
    if (breaks.has(i - 1) || breaks.has(i)) return Number.NaN;
    const share = (time_s - before.time_s) / (after.time_s - before.time_s);
    return mean - before.mean - share * (after.mean - before.mean);
  });
}
