import { neighbours } from "../../numerics/arrays.js";
import type { AveragedDrift } from "../hypotheses/average-drift.js";
import {
  type DriftHypotheses,
  driftHypotheses,
  NO_HYPOTHESES,
} from "../hypotheses/drift-hypotheses.js";
import type { Crossover } from "./crossovers.js";
import { type DriftDatum, dataOf, determineProcess } from "./drift-datum.js";
import {
  type FoundStep,
  findSteps,
  isPause,
  possibleSteps,
  type StepSearch,
} from "./find-steps.js";
import type { CheckVisit, CheckVisits } from "./visits.js";

export interface EvidenceOptions extends StepSearch {
  /** Declared times of re-starts, s. */
  readonly restarts_s: readonly number[];
}

/** What was observed of one channel's drift. */
export interface Observations {
  readonly checks: CheckVisits;
  readonly crossovers: readonly Crossover[];
  /** Standard deviation beforehand of a drift that no check tells, channel's unit; 0 if unknown. */
  readonly unseen: number;
}

/** The observations, the steps in them, and the hypotheses that they are weighed against. */
export interface ChannelEvidence extends Observations {
  /** The visits, then the crossovers. */
  readonly data: readonly DriftDatum[];
  /** Significant steps, and those declared. */
  readonly found: readonly FoundStep[];
  /** The same and all other possible ones. */
  readonly candidates: readonly FoundStep[];
  /** Declared times with visits or the ends of a crossover on both sides. */
  readonly declared_s: readonly number[];
  /** Visits before a pause so long that the instrument was off. */
  readonly off: readonly number[];
  /** None where the errors are not known. */
  readonly hypotheses: DriftHypotheses;
}

/** A pause between two visits longer than this frees the level: the instrument was off. */
const LONG_PAUSE_S = 7200;

export function channelEvidence(
  { checks, crossovers, unseen }: Observations,
  options: EvidenceOptions,
): ChannelEvidence {
  const { visits } = checks;
  const data = dataOf(visits, crossovers);
  const own = findSteps(visits, options);
  const withRestarts = (steps: readonly FoundStep[]) =>
    withDeclared(steps, visits, options.restarts_s);
  const found = withRestarts(own);
  const candidates = withRestarts([...possibleSteps(visits, options), ...own]);
  const declared_s = declaredWithin(found, crossovers, options.restarts_s);
  const times_s = candidates.map(({ time_s }) => time_s);
  const possible_s = times_s.filter((time_s) => !declared_s.includes(time_s));
  const hypotheses = determineProcess(data)
    ? driftHypotheses(data, { possible_s, declared_s }, { repeatScatter: checks.scatter, unseen })
    : NO_HYPOTHESES;
  const off = longPauses(visits, options.walk_s);
  return { checks, crossovers, unseen, data, found, candidates, declared_s, off, hypotheses };
}

/** Declared steps between two visits; one that was found in the same gap gives way. */
function withDeclared(
  found: readonly FoundStep[],
  visits: readonly CheckVisit[],
  restarts_s: readonly number[],
): readonly FoundStep[] {
  const declared = restarts_s.flatMap((time_s): FoundStep[] => {
    const after = visits.findLastIndex((visit) => visit.time_s < time_s);
    return after >= 0 && after + 1 < visits.length ? [{ after, time_s }] : [];
  });
  const byGap = new Map([...found, ...declared].map((step) => [step.after, step]));
  return [...byGap.values()].sort((a, b) => a.after - b.after);
}

/** Crossovers may determine a declared step that lies between no two visits. */
function declaredWithin(
  found: readonly FoundStep[],
  crossovers: readonly Crossover[],
  restarts_s: readonly number[],
): readonly number[] {
  return restarts_s.filter(
    (restart_s) =>
      found.some(({ time_s }) => time_s === restart_s) ||
      crossovers.some(({ from_s, to_s }) => from_s < restart_s && restart_s < to_s),
  );
}

/** Steps that are significant or declared, and of the other candidates those over 50 % probable. */
export function probableSteps(
  { found, candidates }: ChannelEvidence,
  { stepProbability }: AveragedDrift,
): readonly FoundStep[] {
  const certain = new Set(found.map(({ time_s }) => time_s));
  return candidates.filter(
    ({ time_s }) => certain.has(time_s) || (stepProbability.get(time_s) ?? 0) > 0.5,
  );
}

function longPauses(visits: readonly CheckVisit[], walk_s: Float64Array): readonly number[] {
  return neighbours(visits).flatMap(([before, after], i) => {
    const isLong = after.start_s - before.end_s > LONG_PAUSE_S;
    return isLong && isPause(before, after, walk_s) ? [i] : [];
  });
}
