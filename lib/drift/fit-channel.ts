import { MAD_TO_SD, median } from "../numerics/robust.js";
import { constancyProbability } from "./constancy.js";
import type { DriftStep } from "./drift.js";
import { type DriftCurve, driftCurve } from "./drift-curve.js";
import { driftRate } from "./drift-rate.js";
import { type FoundStep, findSteps, isPause, type StepSearch } from "./find-steps.js";
import { type CheckGroup, groupChecks, type Repeat } from "./group-checks.js";

/** What the checks of one channel say about its drift. */
export interface ChannelFit {
  readonly groups: readonly CheckGroup[];
  /** The drift that the checks show, whether or not it is worth correcting. */
  readonly curve: DriftCurve;
  readonly perSecond: number;
  readonly perSecondError: number;
  readonly steps: readonly DriftStep[];
  readonly residual: number;
  readonly p: number;
  /** Root mean square by which left-out checks miss the curve, and miss a constant. */
  readonly missCurve: number;
  readonly missConstant: number;
}

export interface FitOptions extends StepSearch {
  readonly groupWithin_s: number;
}

/** A pause between two visits longer than this frees the level: the instrument was off. */
const LONG_PAUSE_S = 7200;

export function fitChannel(repeats: readonly Repeat[], options: FitOptions): ChannelFit {
  const checks = groupChecks(repeats, options.groupWithin_s);
  const { groups } = checks;
  const found = findSteps(groups, options);
  const rate = driftRate(groups, levelBreaks(groups, found, options));
  const left = leaveOneOut(groups, new Set(found.map(({ after }) => after)));
  return {
    groups,
    curve: driftCurve(groups, found, rate.perSecond),
    perSecond: rate.perSecond,
    perSecondError: rate.error,
    steps: found.map((step) => sized(step, groups, rate.perSecond)),
    residual: left.offCurve.length > 0 ? scaleAboutZero(left.offCurve) : checks.scatter,
    p: constancyProbability(checks),
    missCurve: rootMeanSquare(left.offCurve),
    missConstant: rootMeanSquare(left.offConstant),
  };
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

function sized(step: FoundStep, groups: readonly CheckGroup[], perSecond: number): DriftStep {
  const [before, after] = [groups[step.after]!, groups[step.after + 1]!];
  const drifted = Number.isFinite(perSecond) ? perSecond * (after.time_s - before.time_s) : 0;
  return { time_s: step.time_s, size: after.mean - before.mean - drifted };
}

/** By how much each check between two others misses the line through them, and all others' mean. */
function leaveOneOut(groups: readonly CheckGroup[], breaks: ReadonlySet<number>) {
  const total = groups.reduce((sum, { mean }) => sum + mean, 0);
  const offCurve: number[] = [];
  const offConstant: number[] = [];
  for (let i = 1; i + 1 < groups.length; i++) {
    if (breaks.has(i - 1) || breaks.has(i)) continue;
    const [before, here, after] = [groups[i - 1]!, groups[i]!, groups[i + 1]!];
    const share = (here.time_s - before.time_s) / (after.time_s - before.time_s);
    offCurve.push(here.mean - before.mean - share * (after.mean - before.mean));
    offConstant.push(here.mean - (total - here.mean) / (groups.length - 1));
  }
  return { offCurve, offConstant };
}

function scaleAboutZero(values: readonly number[]): number {
  return MAD_TO_SD * median(values.map(Math.abs));
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
