import type { AveragedDrift } from "../models/average-drift.js";
import { type DriftStories, driftStories, NO_STORIES } from "../models/drift-hypotheses.js";
import { bearsWander } from "../models/drift-models.js";
import {
  type FoundStep,
  findSteps,
  isPause,
  possibleSteps,
  type StepSearch,
} from "../models/find-steps.js";
import type { Crossing } from "./crossovers.js";
import { dataOf } from "./drift-datum.js";
import { type CheckGroup, type CheckGroups, groupChecks, type Repeat } from "./group-checks.js";

export interface ReadOptions extends StepSearch {
  readonly groupWithin_s: number;
  /** Declared times of re-starts, s. */
  readonly restarts_s: readonly number[];
}

/** One channel's evidence put in order, and all that may have happened by it. */
export interface ChannelRead {
  readonly checks: CheckGroups;
  readonly crossings: readonly Crossing[];
  /** Steps that stand out, and those declared. */
  readonly found: readonly FoundStep[];
  /** The same and all others that may have been. */
  readonly supposed: readonly FoundStep[];
  /** Declared times that visits or crossings part. */
  readonly declared_s: readonly number[];
  /** Visits before a pause so long that the instrument was off. */
  readonly off: readonly number[];
  /** None where the errors are not known. */
  readonly stories: DriftStories;
}

/** A pause between two visits longer than this frees the level: the instrument was off. */
const LONG_PAUSE_S = 7200;

export function readChannel(
  repeats: readonly Repeat[],
  crossings: readonly Crossing[],
  options: ReadOptions,
): ChannelRead {
  const checks = groupChecks(repeats, options.groupWithin_s);
  const { groups } = checks;
  const own = findSteps(groups, options);
  const found = withDeclared(own, groups, options.restarts_s);
  const supposed = withDeclared(
    [...possibleSteps(groups, options), ...own],
    groups,
    options.restarts_s,
  );
  const declared_s = declaredOf(found, crossings, options.restarts_s);
  const times_s = supposed.map(({ time_s }) => time_s);
  const possible_s = times_s.filter((time_s) => !declared_s.includes(time_s));
  const stories = bearsWander(groups, crossings)
    ? driftStories(dataOf(groups, crossings), { possible_s, declared_s })
    : NO_STORIES;
  const off = longPauses(groups, options.walk_s);
  return { checks, crossings, found, supposed, declared_s, off, stories };
}

/** The steps that one channel's checks show by themselves. */
export function stepsAlone(repeats: readonly Repeat[], options: ReadOptions): readonly FoundStep[] {
  return findSteps(groupChecks(repeats, options.groupWithin_s).groups, options);
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
function declaredOf(
  found: readonly FoundStep[],
  crossings: readonly Crossing[],
  restarts_s: readonly number[],
): readonly number[] {
  return restarts_s.filter(
    (restart_s) =>
      found.some(({ time_s }) => time_s === restart_s) ||
      crossings.some(({ from_s, to_s }) => from_s < restart_s && restart_s < to_s),
  );
}

/** The steps that stand out or are declared, and of the others supposed those likelier than not. */
export function evident(read: ChannelRead, { stepOdds }: AveragedDrift): readonly FoundStep[] {
  const found = new Set(read.found.map(({ time_s }) => time_s));
  return read.supposed.filter(({ time_s }) => found.has(time_s) || stepOdds.get(time_s)! > 0.5);
}

/** Times of steps between visits, and of declared ones that only crossings part. */
export function withParted(
  steps: readonly FoundStep[],
  { declared_s }: ChannelRead,
): readonly number[] {
  const all = new Set([...steps.map(({ time_s }) => time_s), ...declared_s]);
  return [...all].sort((a, b) => a - b);
}

function longPauses(groups: readonly CheckGroup[], walk_s: Float64Array): readonly number[] {
  return groups.slice(0, -1).flatMap((before, i) => {
    const after = groups[i + 1]!;
    const long = after.start_s - before.end_s > LONG_PAUSE_S;
    return long && isPause(before, after, walk_s) ? [i] : [];
  });
}

/** Visits after which the level is free. */
export function levelBreaks(
  steps: readonly FoundStep[],
  { off }: ChannelRead,
): ReadonlySet<number> {
  return new Set([...steps.map(({ after }) => after), ...off]);
}
