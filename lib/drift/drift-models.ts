import type { Crossing } from "./crossings.js";
import type { DriftModel } from "./drift.js";
import { type DriftCurve, driftCurve, wanderCurve } from "./drift-curve.js";
import { dataOf, spanOf } from "./drift-datum.js";
import { type DriftProcess, randomWalk, smoothingSpline } from "./drift-process.js";
import type { FoundStep } from "./find-steps.js";
import type { CheckGroup } from "./group-checks.js";
import { fitWander, missesOf, scattersRather } from "./wander-fit.js";

/** One model of one channel's drift. */
export interface ModelFit {
  readonly model: DriftModel;
  readonly curve: DriftCurve;
  /** By how much each visit misses what the other data foretell; NaN where they cannot. */
  readonly misses: Float64Array;
  /** The same for each crossing. */
  readonly crossingMisses: Float64Array;
  /** True where scatter of whole visits explains the data better than this model does. */
  readonly scattersRather: boolean;
}

export interface Evidence {
  /** k visits by time. */
  readonly groups: readonly CheckGroup[];
  readonly crossings: readonly Crossing[];
  /** Steps between visits. */
  readonly steps: readonly FoundStep[];
  /** Times of all steps, those that no visits part included. */
  readonly steps_s: readonly number[];
  /** Slope that the visits share, unit per second; NaN where it cannot be told. */
  readonly perSecond: number;
}

/** Every model that the evidence bears, the one that follows it most closely last. */
export function modelFits(evidence: Evidence): readonly ModelFit[] {
  const { groups, crossings } = evidence;
  const errors = [...groups, ...crossings].map(({ error }) => error);
  const wanders = errors.length > 0 && errors.every((error) => error > 0);
  const spread = groups.length > 1 || crossings.length > 0;
  return [
    ...(wanders && spread ? [randomWalk, smoothingSpline].map((one) => wander(one, evidence)) : []),
    ...(groups.length > 1 && crossings.length === 0 ? [piecewise(evidence)] : []),
  ];
}

function wander(process: DriftProcess, { groups, crossings, steps_s }: Evidence): ModelFit {
  const data = dataOf(groups, crossings);
  const fit = fitWander(data, steps_s, process);
  const [first_s, last_s] = spanOf(data);
  const times_s = [...groups.map(({ time_s }) => time_s), first_s, last_s];
  const misses = missesOf(fit);
  return {
    model: process.name,
    curve: wanderCurve(fit, times_s, { reference_s: groups[0]?.time_s ?? first_s, steps_s }),
    misses: misses.subarray(0, groups.length),
    crossingMisses: misses.subarray(groups.length),
    scattersRather: scattersRather(fit),
  };
}

function piecewise({ groups, steps, perSecond }: Evidence): ModelFit {
  const breaks = new Set(steps.map(({ after }) => after));
  const misses = Float64Array.from(groups, ({ mean, time_s }, i) => {
    const [before, after] = [groups[i - 1], groups[i + 1]];
    if (before === undefined || after === undefined) return Number.NaN;
    if (breaks.has(i - 1) || breaks.has(i)) return Number.NaN;
    const share = (time_s - before.time_s) / (after.time_s - before.time_s);
    return mean - before.mean - share * (after.mean - before.mean);
  });
  const curve = driftCurve(groups, steps, perSecond);
  const model = "piecewise-linear";
  return { model, curve, misses, crossingMisses: new Float64Array(0), scattersRather: true };
}

/** Root mean square of those misses that `where` also knows; NaN without one. */
export function missOn(misses: ArrayLike<number>, where: ArrayLike<number>): number {
  const known = Array.from(misses).filter((miss, i) => !Number.isNaN(miss + where[i]!));
  return Math.sqrt(known.reduce((sum, miss) => sum + miss * miss, 0) / known.length);
}

/** A model that comes later must miss left-out checks by this much less: it follows noise more. */
const CLEARLY_LESS: Readonly<Record<DriftModel, number>> = Object.freeze({
  "random-walk": 1,
  "smoothing-spline": 1,
  "piecewise-linear": 0.7,
});

/**
 * The model asked for, or of all the one whose left-out checks miss least, each judged by the checks
 * that both foretell; one that only joins the visits must do so clearly. Null where there is none.
 */
export function chooseModel(fits: readonly ModelFit[], wanted: string): ModelFit | null {
  const asked = fits.find(({ model }) => model === wanted);
  if (asked !== undefined) return asked;
  return fits.reduce<ModelFit | null>((best, fit) => {
    if (best === null) return fit;
    const [one, other] = [all(best), all(fit)];
    const less = missOn(other, one) < CLEARLY_LESS[fit.model] * missOn(one, other);
    return less ? fit : best;
  }, null);
}

function all({ misses, crossingMisses }: ModelFit): number[] {
  return [...misses, ...crossingMisses];
}
