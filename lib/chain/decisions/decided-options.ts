import type { Decision } from "../../step/decision.js";
import type { AnyStep } from "../../step/define-step.js";
import { nearestName } from "../../step/options/nearest-name.js";
import { type Fault, quoted } from "../../step/step-error.js";
import type { Decided } from "../link.js";

/** The step and the option that a decision's name speaks of. */
export interface DecisionTarget {
  readonly step: AnyStep;
  readonly option: string;
}

/** What a decision sets, of the steps that can be decided; null for a name of another form. */
export function targetOf(
  { name }: Pick<Decision, "name">,
  steps: readonly AnyStep[],
): DecisionTarget | null {
  const [stepName, option, ...rest] = name.split(".");
  const step = steps.find((one) => one.name === stepName);
  return step !== undefined && option && rest.length === 0 ? { step, option } : null;
}

/** The options of one step that the decisions set; a later decision replaces an earlier one. */
export function decidedOptions(decisions: readonly Decision[], step: AnyStep): Decided {
  return Object.fromEntries(
    decisions.flatMap((decision) => {
      const target = targetOf(decision, [step]);
      return target === null ? [] : [[target.option, decision.value] as const];
    }),
  );
}

/**
 * Faults of decisions that look like `step.option`: a step that the chain does not have, an option
 * that its step does not have or that is handed over from another step.
 */
export function nameFaults(
  decisions: readonly Decision[],
  steps: readonly AnyStep[],
): readonly Fault[] {
  return decisions.flatMap(({ name }, i) => {
    const path = `decisions[${i}].name`;
    const target = targetOf({ name }, steps);
    if (target === null)
      return /^[A-Za-z]+\.[A-Za-z_]+$/.test(name) ? [stepFault(path, name, steps)] : [];
    const known = Object.entries(target.step.options)
      .filter(([, { role }]) => role === "choice")
      .map(([option]) => option);
    return known.includes(target.option) ? [] : [optionFault(path, name, target, known)];
  });
}

function stepFault(path: string, name: string, steps: readonly AnyStep[]): Fault {
  const names = steps.map((step) => step.name);
  const near = nearestName(name.split(".")[0] ?? "", names);
  return {
    code: "unknown-step",
    path,
    expected: `a step of ${names.join(", ")} before the dot`,
    received: quoted(name),
    ...(near !== null && { hint: `did you mean ${near}?` }),
  };
}

function optionFault(
  path: string,
  name: string,
  { step, option }: DecisionTarget,
  known: readonly string[],
): Fault {
  const near = nearestName(option, known);
  return {
    code: "unknown-option",
    path,
    expected: `${step.name} and one of its options after the dot: ${known.join(", ")}`,
    received: quoted(name),
    ...(near !== null && { hint: `did you mean ${step.name}.${near}?` }),
  };
}
