import { isDeepStrictEqual } from "node:util";
import { decidedText } from "./decision.js";
import type { StepAccount } from "./step-account.js";

/** A decision as a notebook has put it on the record. */
export interface RecordedDecision {
  readonly name: string;
  readonly value: unknown;
}

/** A sentence for each option of which the record says another value than the step used. */
export function decisionNotices(
  { step, used }: Pick<StepAccount<unknown>, "step" | "used">,
  decisions: readonly RecordedDecision[],
): readonly string[] {
  return decisions.flatMap(({ name, value }) => {
    const [of, option = ""] = name.split(".");
    if (of !== step || !(option in used) || isDeepStrictEqual(used[option], value)) return [];
    return [
      `${name} is decided as ${decidedText(value)}, and ${step} used ${decidedText(used[option])}: ` +
        "the appendix is not written while the two differ.",
    ];
  });
}
