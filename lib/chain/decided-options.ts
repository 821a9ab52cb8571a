import type { Decision } from "../step/decision.js";
import { type Fault, StepError } from "../step/step-error.js";

/** Steps whose options a decision may set by a name of the form `step.option`. */
export const decidableSteps = [
  "correctDrift",
  "maskInterference",
  "estimateDepthSlices",
  "segmentBlocks",
  "compareCampaigns",
  "trendOverCampaigns",
  "responseToHead",
  "scoreSeepage",
  "interpret",
] as const;
export type DecidableStep = (typeof decidableSteps)[number];

/** Options of the chain itself, set by decisions named `interpret.…`. */
export interface ChainOptions {
  /** Label of the campaign whose slices are cut into blocks. Default: the first one. */
  readonly blocksFrom?: string;
}

/** The step and option that a decision's name sets; null for a name of another form. */
export function targetOf(
  decision: Decision,
): { readonly step: DecidableStep; readonly option: string } | null {
  const [step, option, ...rest] = decision.name.split(".");
  const known = decidableSteps.find((name) => name === step);
  return known && option && rest.length === 0 ? { step: known, option } : null;
}

/**
 * The options of one step that the decisions set; a later decision on the same option replaces an
 * earlier one.
 */
export function decidedOptions(
  decisions: readonly Decision[],
  step: DecidableStep,
): Readonly<Record<string, unknown>> {
  const options: Record<string, unknown> = {};
  for (const decision of decisions) {
    const target = targetOf(decision);
    if (target?.step === step) options[target.option] = decision.value;
  }
  return options;
}

/** Throws a StepError for decisions that look like `step.option` but name no such step. */
export function refuseUnknownSteps(decisions: readonly Decision[]): void {
  const faults: Fault[] = [];
  for (const [i, decision] of decisions.entries()) {
    if (/^[A-Za-z]+\.[A-Za-z_]+$/.test(decision.name) && targetOf(decision) === null) {
      faults.push({
        code: "unknown-step",
        path: `decisions[${i}].name`,
        expected: `a step of ${decidableSteps.join(", ")} before the dot`,
        received: JSON.stringify(decision.name),
      });
    }
  }
  if (faults.length > 0) throw new StepError("interpret", faults);
}
