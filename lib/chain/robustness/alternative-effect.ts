import type { Decision } from "../../step/decision.js";
import { StepError } from "../../step/step-error.js";
import { targetOf } from "../decisions/decided-options.js";
import type { RobustnessFinding } from "../findings.js";
import type { Link } from "../link.js";
import { type Alternative, rerunLinks } from "../run-links.js";
import type { Work } from "../work.js";

/** One alternative of one decision. */
export interface Tried {
  readonly decision: Decision;
  readonly alternative: unknown;
}

/** The same for another thread. */
export interface AlternativeTask {
  /** The decision's place in the work. */
  readonly decision: number;
  readonly alternative: unknown;
}

export type Effect = Pick<RobustnessFinding, "effect" | "lost">;

/** How an effect begins where a step refuses the alternative. */
const REFUSED = "Cannot be tried";

export const isRefused = ({ effect }: Effect): boolean => effect.startsWith(REFUSED);

const NO_TARGET = "On the record only: the decision sets no option of a step.";

/** What alternatives, taken together, make different, from the first one's step to the last. */
export async function effectOf(
  links: readonly Link[],
  work: Work,
  tried: readonly Tried[],
): Promise<Effect> {
  const alternatives = tried.flatMap((one) => asAlternative(links, one));
  if (alternatives.length === 0) return { effect: NO_TARGET };
  try {
    const rerun = await rerunLinks(links, work, alternatives);
    if (rerun.changed.size === 0) return { effect: "Nothing changes." };
    const changed = links.filter(({ gives }) => rerun.changed.has(gives));
    const texts = changed.flatMap(({ effect }) => effect?.(work, rerun.work) ?? []);
    const lost = changed.flatMap((link) => link.lost?.(work, rerun.work) ?? []);
    const effect = texts.length === 0 ? ONLY_VALUES : texts.join(" ");
    return { effect, ...(lost.length > 0 && { lost }) };
  } catch (error) {
    if (error instanceof StepError) {
      return { effect: `${REFUSED}: ${error.message.split("\n")[0]}.` };
    }
    throw error;
  }
}

function asAlternative(
  links: readonly Link[],
  { decision, alternative }: Tried,
): readonly Alternative[] {
  const steps = links.map(({ step }) => step);
  const target = targetOf(decision, steps);
  if (target === null) return [];
  return [{ step: target.step.name, options: { [target.option]: alternative } }];
}

const ONLY_VALUES =
  "Nothing changes that is named: values move a little; stretches, blocks and zones stay.";
