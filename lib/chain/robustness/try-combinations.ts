import { runLongStep } from "../../step/define-step.js";
import { heard } from "../../step/heard-progress.js";
import type { StepResult } from "../../step/step-result.js";
import { standardChain } from "../standard-chain.js";
import type { Work } from "../work.js";
import { type CombinationOptions, type Combinations, combinationsStep } from "./combinations.js";

/**
 * Runs the chain under a seeded sample of combinations of alternatives, two or more decisions gone
 * another way at once, and counts in how many of them each finding is still made: what
 * `tryAlternatives` tries alone may hold there and fall together.
 *
 * @param work - the results of the chain with the decisions they were made under.
 * @param options - `count` combinations, drawn with `seed`; as many runs of most of the chain.
 * @returns each combination with its effect, and every finding of the main line with the number of
 *   combinations under which it is made. Without two decisions that name alternatives, none.
 * @throws StepError for options outside their range.
 * Source: common practice (one-at-a-time and random sampling of assumptions).
 * @example (await tryCombinations(work, { count: 8 })).value.findings[0]?.finding // "B1"
 */
export function tryCombinations(
  work: Work,
  options: Partial<CombinationOptions> = {},
): Promise<StepResult<Combinations>> {
  return heard("tryCombinations", (tell) => {
    const { links, module } = standardChain;
    const given = { links, work, module, progress: tell ?? undefined };
    return runLongStep(combinationsStep, given, options);
  });
}
