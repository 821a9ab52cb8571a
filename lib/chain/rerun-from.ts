import { nearestName } from "../step/options/nearest-name.js";
import { quoted, StepError } from "../step/step-error.js";
import type { Decided } from "./link.js";
import { standardChain } from "./standard-chain.js";
import type { Work } from "./work.js";

/**
 * The work as it would be had one step gone another way: that step is run with other options, and
 * after it every step that rests on what came out different. All else is taken up again as it is.
 *
 * @param work - the results of the chain, as a notebook or `interpret` holds them.
 * @param step - the public name of a step of the chain, such as "maskInterference".
 * @param options - its options that are to be other; the rest stays as it was used.
 * @returns the work with other products where they differ; what does not change is the same object.
 * @throws StepError for a step that the chain does not have, or what any step throws.
 * @example
 * const other = await rerunFrom(work, "segmentBlocks", { minLength_m: 80 });
 * other.slices === work.slices; // true
 */
export async function rerunFrom(work: Work, step: string, options: Decided): Promise<Work> {
  const names = standardChain.links.map((link) => link.step.name);
  if (!names.includes(step)) {
    const near = nearestName(step, names);
    throw new StepError("rerunFrom", [
      {
        code: "unknown-step",
        path: "step",
        expected: `one of ${names.join(", ")}`,
        received: quoted(step),
        ...(near !== null && { hint: `did you mean ${near}?` }),
      },
    ]);
  }
  return (await standardChain.rerun(work, { step, options })).work;
}
