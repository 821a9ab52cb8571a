import type { StepResult } from "../../step/step-result.js";
import type { RobustnessFinding } from "../findings.js";
import { standardChain } from "../standard-chain.js";
import type { Work } from "../work.js";

/**
 * Runs each decided step again with every named alternative and says what that would change, all
 * else as it is: every step that rests on what came out different is run again, to the proposed boreholes.
 *
 * @param work - the results of the chain with the decisions they were made under.
 * @param options - `progress` is told before each alternative how many are done, and of how many.
 * @returns one row for each alternative of each decision. An alternative that a step refuses, or that
 *   the survey cannot answer, says so.
 * @example (await tryAlternatives(work)).value[0]?.effect // such as "7 blocks become 5."
 */
export function tryAlternatives(
  work: Work,
  options: { readonly progress?: (done: number, total: number) => void } = {},
): Promise<StepResult<readonly RobustnessFinding[]>> {
  return standardChain.robustness(work, options.progress);
}
