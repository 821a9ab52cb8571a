import { standardLinks } from "../standard-links.js";
import { targetOf } from "./decided-options.js";

/** What a decision sets, in words. */
export interface DecisionWords {
  /** Such as "Shortest block". */
  readonly title: string;
  /** Of its value; "" for none. */
  readonly unit: string;
}

/** What a decision's name speaks of, from the option's declaration; null for a name of another form. */
export function decisionWords(name: string): DecisionWords | null {
  const steps = standardLinks.map(({ step }) => step);
  const target = targetOf({ name }, steps);
  const option = target?.step.options[target.option];
  if (option === undefined) return null;
  const [first = ""] = option.meaning.split(/[.;:](?:\s|$)/);
  return { title: option.title || first, unit: option.unit };
}
