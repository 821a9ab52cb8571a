import type { FoundStep } from "./find-steps.js";
import type { CheckGroup } from "./group-checks.js";

/** Drift against time: straight between knots, two knots at one time where it steps. */
export interface DriftCurve {
  /** m times, s, never falling. */
  readonly time_s: Float64Array;
  /** m drifts in the channel's unit, 0 at the first check. */
  readonly drift: Float64Array;
}

/** The curve through the visits' means, from the first as reference level; steps stay sharp. */
export function driftCurve(
  groups: readonly CheckGroup[],
  steps: readonly FoundStep[],
  perSecond: number,
): DriftCurve {
  const slope = Number.isFinite(perSecond) ? perSecond : 0;
  const level = groups[0]?.mean ?? 0;
  const knots: [number, number][] = [];
  for (const [i, { time_s, mean }] of groups.entries()) {
    knots.push([time_s, mean - level]);
    const step = steps.find(({ after }) => after === i);
    const next = groups[i + 1];
    if (step === undefined || next === undefined) continue;
    knots.push([step.time_s, mean - level + slope * (step.time_s - time_s)]);
    knots.push([step.time_s, next.mean - level - slope * (next.time_s - step.time_s)]);
  }
  return {
    time_s: Float64Array.from(knots, ([time_s]) => time_s),
    drift: Float64Array.from(knots, ([, drift]) => drift),
  };
}

/** The drift at n times; constant beyond the first and last check; NaN where the time is NaN. */
export function driftAt(curve: DriftCurve, times_s: ArrayLike<number>): Float64Array {
  const result = new Float64Array(times_s.length);
  for (let i = 0; i < result.length; i++) result[i] = driftAtOne(curve, times_s[i] as number);
  return result;
}

function driftAtOne({ time_s, drift }: DriftCurve, at_s: number): number {
  if (Number.isNaN(at_s)) return Number.NaN;
  const last = time_s.length - 1;
  if (last < 0) return 0;
  if (at_s <= time_s[0]!) return drift[0]!;
  if (at_s >= time_s[last]!) return drift[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (time_s[middle]! <= at_s) low = middle;
    else high = middle;
  }
  const share = (at_s - time_s[low]!) / (time_s[high]! - time_s[low]!);
  return drift[low]! + share * (drift[high]! - drift[low]!);
}
