import { chiSquareTail } from "../../numerics/chi-square.js";
import { MAD_TO_SD, median } from "../../numerics/robust.js";
import { constancyProbability } from "../checks/constancy.js";
import type { Crossing } from "../checks/crossovers.js";
import type { CheckGroup, CheckGroups } from "../checks/group-checks.js";
import { type ChannelRead, evident, levelBreaks, withParted } from "../checks/read-channel.js";
import type { DriftStep } from "../drift.js";
import { type DriftRate, driftRate } from "../drift-rate.js";
import { type AveragedDrift, averageDrift } from "./average-drift.js";
import type { Traits } from "./common-traits.js";
import { driftAt, driftSdAt } from "./drift-curve.js";
import { type ChosenModel, chooseModel, type ModelFit, missOn, modelFits } from "./drift-models.js";

/** What the checks and crossings of one channel say about its drift. */
export interface ChannelFit {
  readonly groups: readonly CheckGroup[];
  readonly crossings: readonly Crossing[];
  /** Every model tried; the drift that they show, whether or not it is worth correcting. */
  readonly models: readonly ModelFit[];
  /** The model asked for or chosen; null where the evidence bears none. */
  readonly chosen: ChosenModel | null;
  /** How likely each kind is, and the scatter of whole visits in the channel's unit. */
  readonly averaged: Pick<AveragedDrift, "odds" | "evidence" | "scatter"> | null;
  readonly perSecond: number;
  readonly perSecondError: number;
  readonly steps: readonly DriftStep[];
  readonly residual: number;
  readonly p: number;
  /** Root mean square by which left-out checks miss the curve, and miss a constant. */
  readonly missCurve: number;
  readonly missConstant: number;
  /** Root mean square of the visits about their mean. */
  readonly unevenness: number;
}

/**
 * @param traits what the other channels let expect, as `commonTraits` tells
 */
export function fitChannel(read: ChannelRead, model: string, traits: Traits): ChannelFit {
  const { checks, crossings, stories } = read;
  const { groups } = checks;
  const averaged = stories.stories.length > 0 ? averageDrift(stories, traits) : null;
  const byAverage = averaged !== null && (model === "auto" || model === "average");
  const steps = byAverage ? evident(read, averaged) : read.found;
  const steps_s = withParted(steps, read);
  const rate = driftRate(groups, levelBreaks(steps, read));
  const { perSecond } = rate;
  const models = modelFits({ groups, crossings, steps, steps_s, perSecond, averaged });
  const chosen = chooseModel(models, model);
  return {
    groups,
    crossings,
    models,
    chosen,
    averaged: averaged === null ? null : summaryOf(averaged, groups),
    ...slopeOf(rate, chosen),
    steps: steps_s.map((time_s) => sized(time_s, chosen)),
    residual: scatterAbout(chosen, checks),
    p: steadyProbability(checks, crossings),
    ...missedBy(chosen, read),
  };
}

function missedBy(chosen: ChosenModel | null, { checks, crossings }: ChannelRead) {
  const off = offConstant(checks.groups);
  const unevenness = Math.sqrt(off.reduce((sum, one) => sum + one * one, 0) / off.length) || 0;
  if (chosen === null) return { missCurve: Number.NaN, missConstant: Number.NaN, unevenness };
  const misses = [...chosen.misses, ...chosen.crossingMisses];
  const constant = [...off, ...crossings.map(({ rise }) => rise)];
  return { missCurve: missOn(misses, misses), missConstant: missOn(constant, misses), unevenness };
}

function summaryOf({ odds, evidence, scatter }: AveragedDrift, groups: readonly CheckGroup[]) {
  return { odds, evidence, scatter: scatter * median(groups.map(({ error }) => error)) };
}

/** The slope that the visits share; where they cannot tell it, that of the chosen curve. */
function slopeOf(rate: DriftRate, chosen: ChosenModel | null) {
  if (Number.isFinite(rate.perSecond) || chosen === null) {
    return { perSecond: rate.perSecond, perSecondError: rate.error };
  }
  const { time_s } = chosen.curve;
  const ends = [time_s[0]!, time_s.at(-1)!] as const;
  const [from, to] = driftAt(chosen.curve, ends);
  const errors = driftSdAt(chosen.curve, ends);
  const long_s = ends[1] - ends[0];
  return {
    perSecond: (to! - from!) / long_s,
    perSecondError: Math.hypot(errors[0]!, errors[1]!) / long_s,
  };
}

function sized(time_s: number, chosen: ChosenModel | null): DriftStep {
  if (chosen === null) return { time_s, size: Number.NaN };
  const [before, after] = driftAt(chosen.curve, [time_s - 1e-3, time_s]);
  return { time_s, size: after! - before! };
}

/** Robust scatter of left-out checks; where none can be foretold, the scatter of the repeats. */
function scatterAbout(chosen: ChosenModel | null, { scatter }: CheckGroups): number {
  const misses = chosen === null ? [] : Array.from(chosen.misses).filter(Number.isFinite);
  return misses.length > 0 ? MAD_TO_SD * median(misses.map(Math.abs)) : scatter;
}

/** Crossings are told from none by chi-square; with both, the less likely of two tries counts. */
function steadyProbability(checks: CheckGroups, crossings: readonly Crossing[]): number {
  const visits = constancyProbability(checks);
  if (crossings.length === 0) return visits;
  const square = crossings.reduce((sum, { rise, error }) => sum + (rise / error) ** 2, 0);
  const passes = chiSquareTail(square, crossings.length);
  return Number.isNaN(visits) ? passes : Math.min(1, 2 * Math.min(visits, passes));
}

/** By how much each visit misses the mean of all others. */
function offConstant(groups: readonly CheckGroup[]): readonly number[] {
  const total = groups.reduce((sum, { mean }) => sum + mean, 0);
  return groups.map(({ mean }) => mean - (total - mean) / (groups.length - 1));
}
