import { linearBetween } from "../../numerics/linear-between.js";
import type { CheckGroup } from "../checks/group-checks.js";
import type { FoundStep } from "./find-steps.js";
import type { Rise } from "./wander-fit.js";

/** Drift against time: straight between knots, two knots at one time where it steps. */
export interface DriftCurve {
  /** m times, s, never falling. */
  readonly time_s: Float64Array;
  /** m drifts in the channel's unit, 0 at the reference time. */
  readonly drift: Float64Array;
  /** m standard deviations of `drift`; 0 where they cannot be told. */
  readonly sd: Float64Array;
  /** How fast the drift may run on beyond the knots: its slope, and the variance its wander gains. */
  readonly beyond: { readonly perSecond: number; readonly variancePerSecond: number };
}

const STILL = Object.freeze({ perSecond: 0, variancePerSecond: 0 });

/** The curve through the visits' means, from the first as reference level; steps stay sharp. */
export function driftCurve(
  groups: readonly CheckGroup[],
  steps: readonly FoundStep[],
  perSecond: number,
): DriftCurve {
  const slope = Number.isFinite(perSecond) ? perSecond : 0;
  const level = groups[0]?.mean ?? 0;
  const knots: [number, number, number][] = [];
  for (const [i, { time_s, mean, error }] of groups.entries()) {
    const sd = i > 0 && error > 0 ? Math.hypot(error, groups[0]!.error) : 0;
    knots.push([time_s, mean - level, sd]);
    const step = steps.find(({ after }) => after === i);
    const next = groups[i + 1];
    if (step === undefined || next === undefined) continue;
    const nextSd = next.error > 0 ? Math.hypot(next.error, groups[0]!.error) : 0;
    knots.push([step.time_s, mean - level + slope * (step.time_s - time_s), sd]);
    knots.push([step.time_s, next.mean - level - slope * (next.time_s - step.time_s), nextSd]);
  }
  return curveOf(knots, { perSecond: slope, variancePerSecond: 0 });
}

/** Knots in each gap between two times of the data, as shares of it: drift bends between them. */
const BETWEEN = [1 / 8, 2 / 8, 3 / 8, 4 / 8, 5 / 8, 6 / 8, 7 / 8];

/** What a curve is drawn from. */
export interface Wandering {
  /** How much the drift rose from one time to each of others. */
  readonly rises: (from_s: number, to_s: readonly number[]) => readonly Rise[];
  /** Times between which the data speak. */
  readonly span_s: readonly [first_s: number, last_s: number];
  /** Variance that the level gains for each hour by a random walk; 0 without one. */
  readonly perHour: number;
}

/**
 * The curve of a fitted wander, 0 at `reference_s`, and its uncertainty.
 *
 * @param times_s times of the data; the curve is constant beyond them
 */
export function wanderCurve(
  wandering: Wandering,
  times_s: readonly number[],
  { reference_s, steps_s }: { readonly reference_s: number; readonly steps_s: readonly number[] },
): DriftCurve {
  const sorted = [...new Set([...times_s, ...steps_s])].sort((a, b) => a - b);
  const knots = sorted.flatMap((time_s, i) => {
    const after = steps_s.includes(time_s) ? [[time_s, time_s + JUST_AFTER_S] as const] : [];
    const gap_s = (sorted[i + 1] ?? time_s) - time_s;
    const within = gap_s > 0 ? BETWEEN.map((share) => time_s + share * gap_s) : [];
    return [[time_s, time_s] as const, ...after, ...within.map((at_s) => [at_s, at_s] as const)];
  });
  const rises = wandering.rises(
    reference_s,
    knots.map(([, at_s]) => at_s),
  );
  return curveOf(
    knots.map(([time_s], k) => [time_s, rises[k]!.mean, rises[k]!.sd]),
    beyondOf(wandering),
  );
}

const JUST_AFTER_S = 1e-3;

/** The slope of the last tenth is how the drift may run on. */
function beyondOf({ rises, span_s, perHour }: Wandering): DriftCurve["beyond"] {
  const [first_s, end_s] = span_s;
  const last_s = end_s - (end_s - first_s) / 10;
  const perSecond = end_s > first_s ? rises(last_s, [end_s])[0]!.mean / (end_s - last_s) : 0;
  return { perSecond, variancePerSecond: perHour / 3600 };
}

function curveOf(
  knots: readonly (readonly [number, number, number])[],
  beyond: DriftCurve["beyond"],
): DriftCurve {
  return {
    time_s: Float64Array.from(knots, ([time_s]) => time_s),
    drift: Float64Array.from(knots, ([, drift]) => drift),
    sd: Float64Array.from(knots, ([, , sd]) => sd),
    beyond: knots.length > 0 ? beyond : STILL,
  };
}

/** The drift at n times; constant beyond the first and last check; NaN where the time is NaN. */
export function driftAt(curve: DriftCurve, times_s: ArrayLike<number>): Float64Array {
  const result = new Float64Array(times_s.length);
  for (let i = 0; i < result.length; i++) {
    result[i] = interpolated(curve.time_s, curve.drift, times_s[i] as number);
  }
  return result;
}

/**
 * The standard deviation of the drift at n times. Beyond the first and last check it grows with all
 * that the drift may have done there; NaN where the time is NaN.
 */
export function driftSdAt(curve: DriftCurve, times_s: ArrayLike<number>): Float64Array {
  const { time_s, sd, beyond } = curve;
  const [first, last] = [time_s[0] ?? Number.NaN, time_s.at(-1) ?? Number.NaN];
  const result = new Float64Array(times_s.length);
  for (let i = 0; i < result.length; i++) {
    const at_s = times_s[i] as number;
    const out_s = Math.max(0, first - at_s, at_s - last) || 0;
    const wander = Math.sqrt(beyond.variancePerSecond * out_s);
    result[i] = Math.hypot(interpolated(time_s, sd, at_s), wander, beyond.perSecond * out_s);
  }
  return result;
}

/** 0 of a curve without knots, as nothing is known to drift. */
function interpolated(time_s: Float64Array, values: Float64Array, at_s: number): number {
  return time_s.length === 0 && !Number.isNaN(at_s) ? 0 : linearBetween(time_s, values, at_s);
}
