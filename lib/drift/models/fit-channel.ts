import { firstOf, lastOf } from "../../numerics/arrays.js";
import { chiSquareTail } from "../../numerics/statistics/chi-square.js";
import { MAD_TO_SD, median } from "../../numerics/statistics/robust.js";
import { type ChannelEvidence, probableSteps } from "../checks/channel-evidence.js";
import { constancyProbability } from "../checks/constancy.js";
import type { Crossover } from "../checks/crossovers.js";
import type { CheckVisit, CheckVisits } from "../checks/visits.js";
import type { ChannelDrift, DriftModel } from "../drift.js";
import { averageDrift } from "../hypotheses/average-drift.js";
import type { SharedPriors } from "../hypotheses/shared-priors.js";
import { driftAt, driftSdAt } from "./drift-curve.js";
import { type ChosenModel, chooseModel, type ModelFit, modelFits } from "./drift-models.js";
import { type DriftRate, driftRate } from "./drift-rate.js";

const HOUR_S = 3600;

/** The drift of one channel as its checks and crossovers show it, significant or not. */
export interface ChannelFit {
  readonly visits: readonly CheckVisit[];
  /** The model asked for or chosen; null where the data determine none. */
  readonly chosen: ChosenModel | null;
  readonly estimate: DriftEstimate;
  /** True where the curve misses left-out data by more than a constant does. */
  readonly failsToPredict: boolean;
  /** Root mean square of the visits about their mean. */
  readonly unevenness: number;
  /** Standard deviation beforehand of a drift that no check tells, channel's unit; 0 if unknown. */
  readonly unseen: number;
}

export type DriftEstimate = Omit<ChannelDrift, "campaign" | "channel" | "model" | "reason">;

/** @param priors of this channel, as `sharedPriors` gives them */
export function fitChannel(
  evidence: ChannelEvidence,
  model: string,
  priors: SharedPriors,
): ChannelFit {
  const { checks, crossovers, data, hypotheses } = evidence;
  const { visits } = checks;
  const averaged = hypotheses.all.length > 0 ? averageDrift(hypotheses, priors) : null;
  const byAverage = averaged !== null && (model === "auto" || model === "average");
  const steps = byAverage ? probableSteps(evidence, averaged) : evidence.found;
  const between_s = steps.map(({ time_s }) => time_s);
  const steps_s = [...new Set([...between_s, ...evidence.declared_s])].sort((a, b) => a - b);
  const breaks = new Set([...steps.map(({ after }) => after), ...evidence.off]);
  const rate = driftRate(visits, breaks);
  const { perSecond } = rate;
  const models = modelFits({ visits, data, steps, steps_s, perSecond, averaged });
  const chosen = chooseModel(models, model);
  const estimate = {
    ...slopeOf(rate, chosen),
    steps: steps_s.map((time_s) => ({ time_s, size: stepSize(time_s, chosen) })),
    residual: scatterAbout(chosen, checks),
    checks: visits.length,
    p: steadyProbability(checks, crossovers),
    from: sourceOf(evidence),
    pairs: crossovers.reduce((sum, { pairs }) => sum + pairs, 0),
    leftOut: leftOutOf(models),
    odds: averaged?.odds ?? null,
    evidence: averaged?.evidence ?? Number.NaN,
    visitScatter: (averaged?.scatter ?? Number.NaN) * hypotheses.scatterUnit,
  };
  const off = offConstant(visits);
  const unevenness = rootMeanSquare(off) || 0;
  const fails = failsToPredict(chosen, off, evidence);
  return { visits, chosen, estimate, failsToPredict: fails, unevenness, unseen: evidence.unseen };
}

function sourceOf({ checks, crossovers }: ChannelEvidence): DriftEstimate["from"] {
  if (checks.visits.length === 0) return crossovers.length === 0 ? "nothing" : "crossings";
  return crossovers.length === 0 ? "base checks" : "base checks and crossings";
}

function leftOutOf(models: readonly ModelFit[]): DriftEstimate["leftOut"] {
  const of = (name: DriftModel) =>
    rootMeanSquare(models.find(({ model }) => model === name)?.errors ?? []);
  return {
    average: of("average"),
    "piecewise-linear": of("piecewise-linear"),
    "random-walk": of("random-walk"),
    "smoothing-spline": of("smoothing-spline"),
  };
}

function failsToPredict(
  chosen: ChosenModel | null,
  off: readonly number[],
  { crossovers }: ChannelEvidence,
): boolean {
  if (chosen === null) return false;
  const constant = [...off, ...crossovers.map(({ rise }) => rise)];
  const compared = constant.filter((_, i) => !Number.isNaN(chosen.errors[i]));
  return rootMeanSquare(chosen.errors) > rootMeanSquare(compared);
}

/** Of the values that are not missing; NaN without one. */
function rootMeanSquare(values: ArrayLike<number>): number {
  const known = Array.from(values).filter((value) => !Number.isNaN(value));
  return Math.sqrt(known.reduce((sum, value) => sum + value * value, 0) / known.length);
}

/** The slope that the visits share; where they do not determine it, that of the chosen curve. */
function slopeOf({ perSecond, error }: DriftRate, chosen: ChosenModel | null) {
  if (Number.isFinite(perSecond) || chosen === null) {
    return { perHour: perSecond * HOUR_S, perHourError: error * HOUR_S };
  }
  const { time_s } = chosen.curve;
  const ends_s = [firstOf(time_s), lastOf(time_s)];
  const drift = driftAt(chosen.curve, ends_s);
  const sd = driftSdAt(chosen.curve, ends_s);
  const long_s = lastOf(ends_s) - firstOf(ends_s);
  return {
    perHour: ((lastOf(drift) - firstOf(drift)) / long_s) * HOUR_S,
    perHourError: (Math.hypot(firstOf(sd), lastOf(sd)) / long_s) * HOUR_S,
  };
}

function stepSize(step_s: number, chosen: ChosenModel | null): number {
  if (chosen === null) return Number.NaN;
  const drift = driftAt(chosen.curve, [step_s - 1e-3, step_s]);
  return lastOf(drift) - firstOf(drift);
}

/** Robust scatter of left-out checks; where none can be predicted, the scatter of the repeats. */
function scatterAbout(chosen: ChosenModel | null, { visits, scatter }: CheckVisits): number {
  const ofVisits = Array.from(chosen?.errors.subarray(0, visits.length) ?? []);
  const errors = ofVisits.filter(Number.isFinite);
  return errors.length > 0 ? MAD_TO_SD * median(errors.map(Math.abs)) : scatter;
}

/**
 * Probability of these data without drift: visits by the F-test, crossovers by chi-square; of both
 * the smaller, with Bonferroni's factor of 2.
 */
function steadyProbability(checks: CheckVisits, crossovers: readonly Crossover[]): number {
  const ofVisits = constancyProbability(checks);
  if (crossovers.length === 0) return ofVisits;
  const square = crossovers.reduce((sum, { rise, error }) => sum + (rise / error) ** 2, 0);
  const ofCrossovers = chiSquareTail(square, crossovers.length);
  return Number.isNaN(ofVisits) ? ofCrossovers : Math.min(1, 2 * Math.min(ofVisits, ofCrossovers));
}

/** By how much each visit lies off the mean of all others. */
function offConstant(visits: readonly CheckVisit[]): readonly number[] {
  const total = visits.reduce((sum, { mean }) => sum + mean, 0);
  return visits.map(({ mean }) => mean - (total - mean) / (visits.length - 1));
}
