import type { Blocks } from "../blocks/blocks.js";
import type { HeadResponse } from "../campaigns/head/head-response.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { Section } from "../sections/section.js";
import { defineStep, runStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { seepageReport } from "./account.js";
import { type SeepageOptions, seepageOptions } from "./options.js";
import { scoredSeepage } from "./score.js";
import type { Seepage } from "./seepage.js";
import type { LineSlices } from "./toe-line.js";

/** What the score is made from. Evidence of missing blocks or changes is unknown. */
export interface SeepageEvidence {
  readonly survey: Given<Survey>;
  readonly slices: Given<DepthSlices>;
  readonly blocks?: Given<Blocks> | null;
  readonly changes?: readonly Given<Changes>[];
  /** What follows the water over three campaigns and more. */
  readonly head?: Given<HeadResponse> | null;
  readonly sections?: readonly Given<Section>[];
  /** Lines beside the one that is scored, such as the toe, each with its slices. */
  readonly otherLines?: readonly LineSlices[];
}

export const seepageStep = defineStep({
  name: "scoreSeepage",
  options: seepageOptions,
  run: scoredSeepage,
  report: seepageReport,
});

/**
 * Ranks stretches by the evidence for a seepage path: weights of evidence.
 *
 * score = ln(p₀/(1 − p₀)) + Σ [v·present + (1 − v)·absent] over the pieces known at a cell, v from
 * 0 (absent) to 1 (present). An unknown piece adds nothing and is said to be unknown. Cells at
 * `zoneFrom` or above make zones; a zone's score is the mean over its cells, so the evidence that
 * stands beside it adds up to it. The probability is that of the declared weights: it ranks, it
 * does not predict a failure.
 *
 * @param evidence - the survey, slices (log10 ohm-m by station), and blocks and changes if made.
 * @param options - see `SeepageOptions`; what is left out is `seepageDefaults`.
 * @returns zones ranked by score, each with its evidence and exit gradient (p10, p50, p90).
 * @throws StepError for options outside their range, all at once.
 * Source: Agterberg 1989; Bonham-Carter 1994 (weights of evidence); USACE EM 1110-2-1913,
 * Appendix B (exit gradient). The weights themselves are the interpreter's.
 * @example scoreSeepage({ survey, slices, blocks, changes: [change] }).value.zones[0]?.rank // 1
 */
export function scoreSeepage(
  evidence: SeepageEvidence,
  options: Partial<SeepageOptions> = {},
): StepResult<Seepage> {
  const { blocks = null, changes = [], head = null } = evidence;
  const { sections = [], otherLines = [] } = evidence;
  const input = {
    survey: resultValue(evidence.survey),
    slices: resultValue(evidence.slices),
    blocks: blocks === null ? null : resultValue(blocks),
    changes: changes.map((change) => resultValue(change)),
    head: head === null ? null : resultValue(head),
    sections: sections.map((section) => resultValue(section)),
    otherLines,
  };
  return runStep(seepageStep, input, options);
}
