import type { ReadingRun } from "../anomaly/reading-run.js";
import type { MaskOptions } from "../options.js";
import { confirmedRuns } from "./confirm-runs.js";
import { type RunEvidence, runEvidence, swings } from "./run-evidence.js";
import type { ScoredProfile } from "./score-profile.js";

/** A stretch of one line that no layered ground explains. */
export interface Detection extends RunEvidence {
  readonly from_m: number;
  readonly to_m: number;
  /** True where an object along the line shifts the stretch as a whole; else left out. */
  readonly along?: true;
}

/**
 * Runs of readings whose score stays above `growTo` and reaches the threshold where at least
 * `share` of the anomaly is not explained by ground, where it is no burst of noise, widened by the
 * margin.
 */
export function detectMetal(
  scored: ScoredProfile,
  options: MaskOptions,
  others: readonly ScoredProfile[],
): readonly Detection[] {
  const { chainage_m } = scored.profile;
  return raisedRuns(scored, options)
    .filter((run) => scored.complete || swings(scored, run))
    .flatMap((run) => confirmedRuns(scored, run, { ...options, others }))
    .map((run) => ({
      from_m: chainage_m[run.first]! - options.margin_m,
      to_m: chainage_m[run.last]! + options.margin_m,
      ...runEvidence(scored, run),
    }));
}

function raisedRuns({ score, share }: ScoredProfile, options: MaskOptions): ReadingRun[] {
  const runs: ReadingRun[] = [];
  for (let i = 0; i < score.length; i++) {
    const first = i;
    let reached = false;
    for (; score[i]! >= options.growTo; i++) {
      reached ||= score[i]! >= options.threshold && share[i]! >= options.share;
    }
    if (reached) runs.push({ first, last: i - 1 });
  }
  return runs;
}
