import { chiSquareTail } from "../numerics/chi-square.js";
import { MAD_TO_SD, median } from "../numerics/robust.js";
import { constancyProbability } from "./constancy.js";
import type { Crossing } from "./crossings.js";
import type { DriftStep } from "./drift.js";
import { driftAt, driftSdAt } from "./drift-curve.js";
import { chooseModel, type ModelFit, missOn, modelFits } from "./drift-models.js";
import { type DriftRate, driftRate } from "./drift-rate.js";
import { type FoundStep, findSteps, isPause, type StepSearch } from "./find-steps.js";
import { type CheckGroup, type CheckGroups, groupChecks, type Repeat } from "./group-checks.js";

/** What the checks and crossings of one channel say about its drift. */
export interface ChannelFit {
  readonly groups: readonly CheckGroup[];
  readonly crossings: readonly Crossing[];
  /** Every model tried; the drift that they show, whether or not it is worth correcting. */
  readonly models: readonly ModelFit[];
  /** The model asked for or chosen; null where the evidence bears none. */
  readonly chosen: ModelFit | null;
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

export interface FitOptions extends StepSearch {
  readonly groupWithin_s: number;
  readonly model: string;
  /** Declared times of re-starts, s. */
  readonly restarts_s: readonly number[];
}

/** A pause between two visits longer than this frees the level: the instrument was off. */
const LONG_PAUSE_S = 7200;

export function fitChannel(
  repeats: readonly Repeat[],
  crossings: readonly Crossing[],
  options: FitOptions,
): ChannelFit {
  const checks = groupChecks(repeats, options.groupWithin_s);
  const { groups } = checks;
  const found = withDeclared(findSteps(groups, options), groups, options.restarts_s);
  const rate = driftRate(groups, levelBreaks(groups, found, options));
  const steps_s = allSteps(found, crossings, options.restarts_s);
  const perSecond = rate.perSecond;
  const models = modelFits({ groups, crossings, steps: found, steps_s, perSecond });
  const chosen = chooseModel(models, options.model);
  const off = offConstant(groups);
  return {
    groups,
    crossings,
    models,
    chosen,
    ...slopeOf(rate, chosen),
    steps: steps_s.map((time_s) => sized(time_s, chosen)),
    residual: scatterAbout(chosen, checks),
    p: steadyProbability(checks, crossings),
    missCurve: chosen === null ? Number.NaN : missOn(allMisses(chosen), allMisses(chosen)),
    missConstant:
      chosen === null
        ? Number.NaN
        : missOn([...off, ...crossings.map(({ rise }) => rise)], allMisses(chosen)),
    unevenness: Math.sqrt(off.reduce((sum, one) => sum + one * one, 0) / off.length) || 0,
  };
}

/** The steps that one channel's checks show by themselves. */
export function stepsAlone(repeats: readonly Repeat[], options: FitOptions): readonly FoundStep[] {
  return findSteps(groupChecks(repeats, options.groupWithin_s).groups, options);
}

function allMisses({ misses, crossingMisses }: ModelFit): readonly number[] {
  return [...misses, ...crossingMisses];
}

/** Declared steps between two visits; one that was found in the same gap gives way. */
function withDeclared(
  found: readonly FoundStep[],
  groups: readonly CheckGroup[],
  restarts_s: readonly number[],
): readonly FoundStep[] {
  const declared = restarts_s.flatMap((time_s): FoundStep[] => {
    const after = groups.findLastIndex((group) => group.time_s < time_s);
    return after >= 0 && after + 1 < groups.length ? [{ after, time_s }] : [];
  });
  const byGap = new Map([...found, ...declared].map((step) => [step.after, step]));
  return [...byGap.values()].sort((a, b) => a.after - b.after);
}

/** Crossings may tell a declared step that no visits part. */
function allSteps(
  found: readonly FoundStep[],
  crossings: readonly Crossing[],
  restarts_s: readonly number[],
): readonly number[] {
  const parted = restarts_s.filter((time_s) =>
    crossings.some(({ from_s, to_s }) => from_s < time_s && time_s < to_s),
  );
  return [...new Set([...found.map(({ time_s }) => time_s), ...parted])].sort((a, b) => a - b);
}

function levelBreaks(
  groups: readonly CheckGroup[],
  found: readonly FoundStep[],
  { walk_s }: FitOptions,
): ReadonlySet<number> {
  const breaks = new Set(found.map(({ after }) => after));
  for (let i = 0; i + 1 < groups.length; i++) {
    const [before, after] = [groups[i]!, groups[i + 1]!];
    const long = after.start_s - before.end_s > LONG_PAUSE_S;
    if (long && isPause(before, after, walk_s)) breaks.add(i);
  }
  return breaks;
}

/** The slope that the visits share; where they cannot tell it, that of the chosen curve. */
function slopeOf(rate: DriftRate, chosen: ModelFit | null) {
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

function sized(time_s: number, chosen: ModelFit | null): DriftStep {
  if (chosen === null) return { time_s, size: Number.NaN };
  const [before, after] = driftAt(chosen.curve, [time_s - 1e-3, time_s]);
  return { time_s, size: after! - before! };
}

/** Robust scatter of left-out checks; where none can be foretold, the scatter of the repeats. */
function scatterAbout(chosen: ModelFit | null, { scatter }: CheckGroups): number {
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
