import type { Crossing } from "../checks/crossovers.js";
import { dataOf, spanOf } from "../checks/drift-datum.js";
import type { CheckGroup } from "../checks/group-checks.js";
import type { DriftModel } from "../drift.js";
import type { AveragedDrift } from "./average-drift.js";
import { averagedRises } from "./average-rises.js";
import { type DriftCurve, driftCurve, type Wandering, wanderCurve } from "./drift-curve.js";
import { randomWalk, smoothingSpline, type WanderProcess } from "./drift-process.js";
import type { FoundStep } from "./find-steps.js";
import { fitWander, missesOf, riseBetween, scattersRather } from "./wander-fit.js";

/** One model of one channel's drift. */
export interface ModelFit {
  readonly model: DriftModel;
  /** By how much each visit misses what the other data foretell; NaN where they cannot. */
  readonly misses: Float64Array;
  /** The same for each crossing. */
  readonly crossingMisses: Float64Array;
  /** What is only worked out for the model that is taken. */
  readonly taken: () => TakenModel;
}

export interface TakenModel {
  readonly curve: DriftCurve;
  /** True where scatter of whole visits explains the data as well as this model does. */
  readonly scattersRather: boolean;
}

/** The model that is taken. */
export type ChosenModel = Omit<ModelFit, "taken"> & TakenModel;

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
  /** The average of all that may have happened; null where the evidence bears none. */
  readonly averaged: AveragedDrift | null;
}

/** True where every error is known and two times at least can be compared: a wander can be fitted. */
export function bearsWander(
  groups: readonly CheckGroup[],
  crossings: readonly Crossing[],
): boolean {
  const errors = [...groups, ...crossings].map(({ error }) => error);
  const spread = groups.length > 1 || crossings.length > 0;
  return spread && errors.every((error) => error > 0);
}

/** Every model that the evidence bears. */
export function modelFits(evidence: Evidence): readonly ModelFit[] {
  const { groups, crossings, averaged } = evidence;
  const wanders = bearsWander(groups, crossings) ? [randomWalk, smoothingSpline] : [];
  return [
    ...(averaged === null ? [] : [average(averaged, evidence)]),
    ...wanders.map((one) => wander(one, evidence)),
    ...(groups.length > 1 && crossings.length === 0 ? [piecewise(evidence)] : []),
  ];
}

function wander(process: WanderProcess, evidence: Evidence): ModelFit {
  const { groups, crossings, steps_s } = evidence;
  const fit = fitWander(dataOf(groups, crossings), steps_s, process);
  const perHour = process.name === "random-walk" ? fit.rate : 0;
  const rises = (from_s: number, times_s: readonly number[]) =>
    times_s.map((to_s) => riseBetween(fit, from_s, to_s));
  return {
    model: process.name,
    ...parted(missesOf(fit), groups),
    taken: () => {
      const curve = curveThrough({ rises, perHour }, evidence);
      return { curve, scattersRather: scattersRather(fit) };
    },
  };
}

function average(averaged: AveragedDrift, evidence: Evidence): ModelFit {
  const { perHour, stepOdds, misses } = averaged;
  const rises = (from_s: number, times_s: readonly number[]) =>
    averagedRises(averaged, from_s, times_s);
  const steps_s = [...stepOdds.keys()];
  return {
    model: "average",
    ...parted(misses, evidence.groups),
    taken: () => {
      const curve = curveThrough({ rises, perHour }, { ...evidence, steps_s });
      return { curve, scattersRather: false };
    },
  };
}

function curveThrough(
  wandering: Pick<Wandering, "rises" | "perHour">,
  { groups, crossings, steps_s }: Evidence,
): DriftCurve {
  const span_s = spanOf(dataOf(groups, crossings));
  const times_s = [...groups.map(({ time_s }) => time_s), ...span_s];
  const reference_s = groups[0]?.time_s ?? span_s[0];
  return wanderCurve({ ...wandering, span_s }, times_s, { reference_s, steps_s });
}

function parted(misses: Float64Array, { length }: readonly CheckGroup[]) {
  return { misses: misses.subarray(0, length), crossingMisses: misses.subarray(length) };
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
  return {
    model: "piecewise-linear",
    misses,
    crossingMisses: new Float64Array(0),
    taken: () => ({ curve: driftCurve(groups, steps, perSecond), scattersRather: true }),
  };
}

/** Root mean square of those misses that `where` also knows; NaN without one. */
export function missOn(misses: ArrayLike<number>, where: ArrayLike<number>): number {
  const known = Array.from(misses).filter((miss, i) => !Number.isNaN(miss + where[i]!));
  return Math.sqrt(known.reduce((sum, miss) => sum + miss * miss, 0) / known.length);
}

/** The model asked for, else the first of those that the evidence bears; null where there is none. */
export function chooseModel(fits: readonly ModelFit[], wanted: string): ChosenModel | null {
  const fit = fits.find(({ model }) => model === wanted) ?? fits[0];
  if (fit === undefined) return null;
  const { taken, ...own } = fit;
  return { ...own, ...taken() };
}
