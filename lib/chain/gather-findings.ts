import type { StepResult } from "../step/step-result.js";
import type { Findings } from "./findings.js";
import { standardChain } from "./standard-chain.js";
import type { Work } from "./work.js";

/**
 * Gathers what every step found into one value, the content of findings.json: chainages to 0.1 m,
 * other numbers to four significant digits, every list present, every caution once.
 *
 * @param work - the results of the steps, as the notebook or `interpret` holds them.
 * @returns the findings, with the account of all readings of the survey.
 * @example gatherFindings(work).value.blocks.length; // 9
 */
export function gatherFindings(work: Work): StepResult<Findings> {
  return standardChain.gather(work);
}
