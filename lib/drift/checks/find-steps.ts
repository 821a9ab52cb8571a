import { neighbours } from "../../numerics/arrays.js";
import { lastAtMost } from "../../numerics/functions/linear-between.js";
import { median } from "../../numerics/statistics/robust.js";
import type { CheckVisit } from "./visits.js";

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

/** The time between one visit and the next. */
interface Gap {
  readonly index: number;
  readonly before: CheckVisit;
  readonly after: CheckVisit;
  /** Change of level, unit per second. */
  readonly rate: number;
  /** True where visits are close in time, or nobody walked between them. */
  readonly mayStep: boolean;
}

/**
 * Steps of one channel: between two visits that are close in time, or have no reading of a walk
 * between them, the level changes by more than the checks' errors explain and much faster than the
 * channel drifts elsewhere. The step is put into the longest silence between the two visits.
 */
export function findSteps(visits: readonly CheckVisit[], search: StepSearch): readonly FoundStep[] {
  const gaps = gapsOf(visits, search);
  return gaps
    .filter(({ mayStep }) => mayStep)
    .flatMap((gap) => {
      const step = stepIn(gap, search);
      const { usual, fastest } = elsewhere(gaps, gap);
      const excess = Math.abs(gap.rate - usual);
      const { before, after } = gap;
      const errors =
        (excess * (after.time_s - before.time_s)) / Math.hypot(before.error, after.error);
      const alone = errors > search.stepMinimum && excess > search.stepSpeed * fastest;
      const isEvent = search.events_s.some(
        (event_s) => Math.abs(event_s - step.time_s) <= search.stepWithin_s / 2,
      );
      const joined = errors > search.stepMinimum / 2 && isEvent;
      return alone || joined ? [step] : [];
    });
}

function gapsOf(visits: readonly CheckVisit[], search: StepSearch): readonly Gap[] {
  return neighbours(visits).map(([before, after], index) => {
    const rate = (after.mean - before.mean) / (after.time_s - before.time_s);
    const isClose = after.start_s - before.end_s <= search.stepWithin_s;
    return {
      index,
      before,
      after,
      rate,
      mayStep: isClose || isPause(before, after, search.walk_s),
    };
  });
}

/** How the channel drifts where it cannot step; if it may step anywhere, in all other gaps. */
function elsewhere(gaps: readonly Gap[], gap: Gap) {
  const sure = gaps.filter(({ mayStep }) => !mayStep);
  const others = sure.length > 0 ? sure : gaps.filter((one) => one !== gap);
  const rates = others.map(({ rate }) => rate);
  const fastest = rates.reduce((most, rate) => Math.max(most, Math.abs(rate)), 0);
  return { usual: rates.length > 0 ? median(rates) : 0, fastest };
}

/** Where more gaps than these may hold a step, only those without a walk between are candidates. */
const MOST_GAPS = 3;

/** Candidate steps, significant or not: where visits are close or nobody walked. */
export function possibleSteps(
  visits: readonly CheckVisit[],
  search: StepSearch,
): readonly FoundStep[] {
  const close = gapsOf(visits, search).filter(({ mayStep }) => mayStep);
  const paused = close.filter(({ before, after }) => isPause(before, after, search.walk_s));
  const candidates = close.length > MOST_GAPS ? paused.slice(0, MOST_GAPS) : close;
  return candidates.map((gap) => stepIn(gap, search));
}

/** True where no walk was read between two visits. */
export function isPause(before: CheckVisit, after: CheckVisit, walk_s: Float64Array): boolean {
  return readUntil(walk_s, before.end_s) === readUntil(walk_s, after.start_s);
}

/** A step in the middle of a gap's longest silence. */
function stepIn({ index, before, after }: Gap, { walk_s }: StepSearch): FoundStep {
  const [from_s, to_s] = [before.end_s, after.start_s];
  const walked = walk_s.subarray(readUntil(walk_s, from_s), readUntil(walk_s, to_s));
  const silences = neighbours([from_s, ...walked, to_s]);
  const [start_s, end_s] = silences.reduce((longest, one) =>
    one[1] - one[0] > longest[1] - longest[0] ? one : longest,
  );
  return { after: index, time_s: (start_s + end_s) / 2 };
}

/** Number of readings up to a time. */
function readUntil(walk_s: Float64Array, time_s: number): number {
  return lastAtMost(walk_s, time_s, [0, walk_s.length - 1]) + 1;
}
