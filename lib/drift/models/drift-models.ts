import { type DriftDatum, determineProcess, spanOf } from "../checks/drift-datum.js";
import type { FoundStep } from "../checks/find-steps.js";
import type { CheckVisit } from "../checks/visits.js";
import type { DriftModel } from "../drift.js";
import type { AveragedDrift } from "../hypotheses/average-drift.js";
import { averagedRises } from "../hypotheses/averaged-rises.js";
import { type NamedProcess, randomWalk, smoothingSpline } from "../kriging/drift-process.js";
import {
  explainedByScatter,
  krigeDrift,
  leaveOneOutOf,
  riseBetween,
} from "../kriging/krige-drift.js";
import type { DriftCurve } from "./drift-curve.js";
import { piecewiseCurve, piecewiseErrors } from "./piecewise-linear.js";
import { type DriftPosterior, posteriorCurve } from "./posterior-curve.js";

/** One model of one channel's drift. */
export interface ModelFit {
  readonly model: DriftModel;
  /** Leave-one-out prediction error of each datum; NaN where the others do not predict it. */
  readonly errors: Float64Array;
  /** Worked out for the model that is taken only. */
  readonly curve: () => DriftCurve;
  /** True where scatter of whole visits explains the data as well as this model does. */
  readonly explainedByScatter: () => boolean;
}

/** The model that is taken. */
export type ChosenModel = Omit<ModelFit, "curve"> & { readonly curve: DriftCurve };

/** What the models are fitted to. */
export interface ModelInput {
  /** k visits by time. */
  readonly visits: readonly CheckVisit[];
  /** The visits, then the crossovers. */
  readonly data: readonly DriftDatum[];
  /** Steps between visits. */
  readonly steps: readonly FoundStep[];
  /** Times of all steps, those within crossovers alone included. */
  readonly steps_s: readonly number[];
  /** Slope that the visits share, unit per second; NaN where they do not determine it. */
  readonly perSecond: number;
  /** The average over the hypotheses; null where there are none. */
  readonly averaged: AveragedDrift | null;
}

/** Every model that the data determine. */
export function modelFits(input: ModelInput): readonly ModelFit[] {
  const { visits, data, averaged } = input;
  const processes = determineProcess(data) ? [randomWalk, smoothingSpline] : [];
  const onlyVisits = visits.length > 1 && data.length === visits.length;
  return [
    ...(averaged === null ? [] : [averagedModel(averaged, input)]),
    ...processes.map((process) => krigedModel(process, input)),
    ...(onlyVisits ? [piecewiseModel(input)] : []),
  ];
}

function krigedModel(process: NamedProcess, input: ModelInput): ModelFit {
  const fit = krigeDrift(input.data, input.steps_s, process);
  const perHour = process.name === "random-walk" ? fit.rate : 0;
  const rises = (from_s: number, times_s: readonly number[]) =>
    times_s.map((to_s) => riseBetween(fit, from_s, to_s));
  return {
    model: process.name,
    errors: leaveOneOutOf(fit),
    curve: () => curveThrough({ rises, perHour }, input),
    explainedByScatter: () => explainedByScatter(fit),
  };
}

function averagedModel(averaged: AveragedDrift, input: ModelInput): ModelFit {
  const { perHour, stepProbability, leaveOneOut } = averaged;
  const rises = (from_s: number, times_s: readonly number[]) =>
    averagedRises(averaged, from_s, times_s);
  const steps_s = [...stepProbability.keys()];
  return {
    model: "average",
    errors: leaveOneOut,
    curve: () => curveThrough({ rises, perHour }, { ...input, steps_s }),
    explainedByScatter: () => false,
  };
}

function piecewiseModel({ visits, steps, perSecond }: ModelInput): ModelFit {
  return {
    model: "piecewise-linear",
    errors: piecewiseErrors(visits, steps),
    curve: () => piecewiseCurve(visits, steps, perSecond),
    explainedByScatter: () => true,
  };
}

function curveThrough(
  posterior: DriftPosterior,
  { visits, data, steps_s }: ModelInput,
): DriftCurve {
  const times_s = [...visits.map(({ time_s }) => time_s), ...spanOf(data)];
  return posteriorCurve(posterior, times_s, steps_s);
}

/** The model asked for, else the first that the data determine; null where there is none. */
export function chooseModel(fits: readonly ModelFit[], wanted: string): ChosenModel | null {
  const fit = fits.find(({ model }) => model === wanted) ?? fits[0];
  return fit === undefined ? null : { ...fit, curve: fit.curve() };
}
