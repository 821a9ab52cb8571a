import { median } from "../../numerics/robust.js";
import type { CheckGroup } from "../checks/group-checks.js";

export interface StepSearch {
  /** Times of the walks' readings, sorted, s. */
  readonly walk_s: Float64Array;
  /** Visits this close in time may show a step, s. */
  readonly stepWithin_s: number;
  /** Least size of a step, in standard errors. */
  readonly stepMinimum: number;
  /** Least rate of a step, in multiples of the fastest drift elsewhere in the channel. */
  readonly stepSpeed: number;
  /** Times at which other channels stepped: there half the least size is enough, at any rate. */
  readonly events_s: readonly number[];
}

/** A step of one channel between visits `after` and `after + 1`. */
export interface FoundStep {
  readonly after: number;
  readonly time_s: number;
}

/**
 * Steps of one channel: between two visits that are close in time, or have no reading of a walk
 * between them, the level changes by more than the checks' errors explain and much faster than the
 * channel drifts elsewhere. The step is put into the longest silence between the two visits.
 */
export function findSteps(groups: readonly CheckGroup[], search: StepSearch): readonly FoundStep[] {
  const rates = groups.slice(0, -1).map((_, i) => rateBetween(groups[i]!, groups[i + 1]!));
  const mayStep = rates.map((_, i) => isCandidate(groups[i]!, groups[i + 1]!, search));
  const found: FoundStep[] = [];
  for (let i = 0; i < rates.length; i++) {
    if (!mayStep[i]) continue;
    const [before, after] = [groups[i]!, groups[i + 1]!];
    const time_s = middleOfSilence(before.end_s, after.start_s, search.walk_s);
    const { usual, fastest } = elsewhere(rates, mayStep, i);
    const excess = Math.abs(rates[i]! - usual);
    const errors =
      (excess * (after.time_s - before.time_s)) / Math.hypot(before.error, after.error);
    const alone = errors > search.stepMinimum && excess > search.stepSpeed * fastest;
    const joined = errors > search.stepMinimum / 2 && isEvent(time_s, search);
    if (alone || joined) found.push({ after: i, time_s });
  }
  return found;
}

/** How the channel drifts where it cannot step; where it may step in every gap, in all other gaps. */
function elsewhere(rates: readonly number[], mayStep: readonly boolean[], i: number) {
  const sure = rates.filter((_, k) => !mayStep[k]);
  const others = sure.length > 0 ? sure : rates.filter((_, k) => k !== i);
  const fastest = others.reduce((most, rate) => Math.max(most, Math.abs(rate)), 0);
  return { usual: others.length > 0 ? median(others) : 0, fastest };
}

/** Where more gaps than these might hold a step, only those without a walk between are thought of. */
const MOST_GAPS = 3;

/** Times at which the level may have stepped, seen or not: where visits are close or nobody walked. */
export function possibleSteps(
  groups: readonly CheckGroup[],
  search: StepSearch,
): readonly FoundStep[] {
  const gaps = groups.slice(0, -1).map((before, after) => [before, groups[after + 1]!] as const);
  const close = gaps.filter(([before, after]) => isCandidate(before, after, search));
  const paused = close.filter(([before, after]) => isPause(before, after, search.walk_s));
  return (close.length > MOST_GAPS ? paused.slice(0, MOST_GAPS) : close).map(([before, after]) => {
    const time_s = middleOfSilence(before.end_s, after.start_s, search.walk_s);
    return { after: groups.indexOf(before), time_s };
  });
}

/** True where no walk was read between two visits. */
export function isPause(before: CheckGroup, after: CheckGroup, walk_s: Float64Array): boolean {
  return firstAfter(walk_s, before.end_s) === firstAfter(walk_s, after.start_s);
}

function isCandidate(before: CheckGroup, after: CheckGroup, search: StepSearch): boolean {
  const close = after.start_s - before.end_s <= search.stepWithin_s;
  return close || isPause(before, after, search.walk_s);
}

function isEvent(time_s: number, { events_s, stepWithin_s }: StepSearch): boolean {
  return events_s.some((event_s) => Math.abs(event_s - time_s) <= stepWithin_s / 2);
}

function rateBetween(before: CheckGroup, after: CheckGroup): number {
  return (after.mean - before.mean) / (after.time_s - before.time_s);
}

function middleOfSilence(from_s: number, to_s: number, walk_s: Float64Array): number {
  const first = firstAfter(walk_s, from_s);
  const times = [from_s, ...walk_s.subarray(first, firstAfter(walk_s, to_s)), to_s];
  let longest = 1;
  for (let i = 2; i < times.length; i++) {
    if (times[i]! - times[i - 1]! > times[longest]! - times[longest - 1]!) longest = i;
  }
  return (times[longest - 1]! + times[longest]!) / 2;
}

/** Index of the first entry of a sorted array that is greater than `value`. */
function firstAfter(sorted: Float64Array, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! > value) high = middle;
    else low = middle + 1;
  }
  return low;
}
