import { runsWhere } from "../anomaly/reading-run.js";
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
  const { score, share, profile } = scored;
  const { chainage_m } = profile;
  const reaches = (i: number) => score[i]! >= options.threshold && share[i]! >= options.share;
  return runsWhere(score.length, (i) => score[i]! >= options.growTo)
    .filter(({ first, last }) => score.subarray(first, last + 1).some((_, i) => reaches(first + i)))
    .filter((run) => scored.complete || swings(scored, run))
    .flatMap((run) => confirmedRuns(scored, run, { ...options, others }))
    .map((run) => ({
      from_m: chainage_m[run.first]! - options.margin_m,
      to_m: chainage_m[run.last]! + options.margin_m,
      ...runEvidence(scored, run),
    }));
}
