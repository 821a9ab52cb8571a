import { defineStep, runLongStep } from "../../step/define-step.js";
import type { StepResult } from "../../step/step-result.js";
import { planLineReport } from "./account.js";
import type { LinePlan, LineTarget } from "./line-plan.js";
import { type PlanLineOptions, planLineOptions } from "./options.js";
import { planLineFaults } from "./plan-faults.js";
import { plannedLine } from "./planned-line.js";

export const planLineStep = defineStep({
  name: "planLine",
  options: planLineOptions,
  faults: planLineFaults,
  run: plannedLine,
  report: planLineReport,
});

/**
 * Before the field: whether a line of electrodes will recover a target, with which array, and what
 * it takes.
 *
 * Electrodes are laid as asked for, or by rules of thumb. Then the line is measured and inverted as
 * often as `trials` says: ground that varies of its own accord, the target anywhere between two
 * electrodes, readings with noise from cells and a grid finer than, and other than, the
 * inversion's. A target is recovered where the half-contrast body of the section overlaps it by
 * `overlap` or more in reliable cells.
 *
 * @param target - `length_m`, `top_m`, `base_m` (m) and its resistivity over that of the ground it
 *   lies in (above 0, not 1).
 * @param options - see `PlanLineOptions`; what is left out is `planLineDefaults`.
 * @returns array, spacing, electrodes, minutes, and the probability with its 80 % interval, for
 *   each array that was tried. Nothing may be missing: NaN is a fault.
 * @throws StepError with every fault.
 * Limits: level ground, a target without end across the line, errors of readings independent; who
 *   looks knows where the target is. Time and rules of thumb are common practice.
 * Source: Wilson 1927 (interval of a share); rules of thumb and times: common practice.
 * @example
 * (await planLine({ length_m: 6, top_m: 1, base_m: 3, resistivityRatio: 4 },
 *   { array: "Wenner", trials: 2 })).value.electrodes // 28
 */
export function planLine(
  target: LineTarget,
  options: Partial<PlanLineOptions> = {},
): Promise<StepResult<LinePlan>> {
  return runLongStep(planLineStep, target, options);
}
