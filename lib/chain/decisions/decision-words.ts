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

/** A decision in words, such as "Shortest block: 40 m"; null for a name of another form. */
export function decidedInWords(name: string, value: string): string | null {
  const known = decisionWords(name);
  return known === null ? null : `${known.title}: ${valueWords(value, known.unit)}`;
}

/** Numbers have the option's unit; true and false are yes and no. */
function valueWords(value: string, unit: string): string {
  if (value === "true") return "yes";
  if (value === "false") return "no";
  return unit !== "" && /^-?[\d.]+$/.test(value) ? `${value} ${unit}` : value;
}
