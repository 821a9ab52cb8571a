import type { Decision } from "../step/decision.js";
import { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import type { Findings } from "./findings.js";
import { standardChain } from "./standard-chain.js";
import type { Work } from "./work.js";

/** The findings, and every result that led to them. */
export interface Interpretation extends Work {
  readonly findings: Findings;
}

/**
 * The whole chain in one call: drift, interference, depth slices, blocks, campaigns (from three on
 * their trend and, with water levels, their response to the head), soils, seepage,
 * boreholes, robustness, findings. The appendix notebook does the same steps in the same order.
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
  const made = await standardChain.run(survey, decisions);
  const robustness = await standardChain.robustness(made);
  const work: Work = { ...made, robustness: robustness.value };
  const gathered = standardChain.gather(work);
  return new StepResult({
    ...gathered,
    step: "interpret",
    value: { ...work, findings: gathered.value },
    used: { decisions: decisions.map(({ name, value }) => ({ name, value })) },
  });
}
