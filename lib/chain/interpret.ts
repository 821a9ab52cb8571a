import { segmentBlocks } from "../blocks/segment-blocks.js";
import { compareCampaigns } from "../campaigns/pair/compare-campaigns.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { correctDrift } from "../drift/correct-drift.js";
import { compareInterference } from "../interference/across/compare-interference.js";
import { maskInterference } from "../interference/mask-interference.js";
import { scoreSeepage } from "../seepage/score-seepage.js";
import type { Decision } from "../step/decision.js";
import { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { type ChainOptions, decidedOptions, refuseUnknownSteps } from "./decided-options.js";
import type { Findings } from "./findings.js";
import { gatherFindings } from "./gather-findings.js";
import { overCampaigns } from "./over-campaigns.js";
import { slicesOf } from "./slices-of.js";
import { tryAlternatives } from "./try-alternatives.js";
import type { Work } from "./work.js";

/** The findings, and every result that led to them. */
export interface Interpretation extends Work {
  readonly findings: Findings;
}

/**
 * The whole chain in one call: drift, interference, depth slices, blocks, campaigns (from three on
 * their trend and, with water levels, their response to the head), seepage, robustness, findings. The appendix notebook does the same steps in the same order.
 *
 * @param survey - what `openSurvey` returned.
 * @param decisions - what `decide` returned; names of the form `step.option` set that option.
 * @returns the findings with every intermediate result; the account covers all readings.
 * @throws StepError for a decision on an unknown step, or what any step throws.
 * @example (await interpret(await openSurvey(folder), [])).value.findings.seepage[0]?.rank; // 1
 */
export async function interpret(
  survey: StepResult<Survey>,
  decisions: readonly Decision[] = [],
): Promise<StepResult<Interpretation>> {
  refuseUnknownSteps(decisions);
  const set = (step: Parameters<typeof decidedOptions>[1]) => decidedOptions(decisions, step);
  const drift = survey.value.campaigns.map((one) => correctDrift(one, set("correctDrift")));
  const masked = drift.map((one) => maskInterference(one, set("maskInterference")));
  const slices = await slicesOf(masked, set("estimateDepthSlices"));
  const reference = referenceOf(slices, set("interpret"));
  const { boreholes } = survey.value;
  const blocks = segmentBlocks(reference, { boreholes, ...set("segmentBlocks") });
  const changes = slices
    .slice(1)
    .map((later, i) => compareCampaigns(slices[i]!, later, set("compareCampaigns")));
  const seepage = scoreSeepage({ survey, slices: reference, blocks, changes }, set("scoreSeepage"));
  const across = masked.length > 1 ? { across: compareInterference(masked) } : {};
  const several = overCampaigns({ survey, slices }, decisions);
  const steps = { survey, drift, masked, slices, blocks, changes, ...across, ...several };
  const work: Work = { ...steps, seepage, decisions };
  const robustness = await tryAlternatives(work);
  const gathered = gatherFindings({ ...work, robustness: robustness.value });
  return new StepResult({
    ...gathered,
    step: "interpret",
    value: { ...work, robustness: robustness.value, findings: gathered.value },
    used: { decisions: decisions.map(({ name, value }) => ({ name, value })) },
  });
}

/** The slices that blocks and seepage rest on: the decided campaign's, or the first one's. */
export function referenceOf(
  slices: readonly StepResult<DepthSlices>[],
  chain: ChainOptions = {},
): StepResult<DepthSlices> {
  return slices.find((one) => one.value.campaign === chain.blocksFrom) ?? slices[0]!;
}
