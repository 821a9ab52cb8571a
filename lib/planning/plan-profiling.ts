import type { ConductiveEarth } from "../earth/coil-response.js";
import { defineStep, runStep } from "../step/define-step.js";
import type { StepResult } from "../step/step-result.js";
import type { Instrument } from "../survey/survey.js";
import { planReport } from "./account.js";
import { planOptions } from "./options.js";
import type { ProfilingPlan, ProfilingQuestion } from "./plan.js";
import { planFaults } from "./plan-faults.js";
import { profilingPlan } from "./profiling-plan.js";

export const planStep = defineStep({
  name: "planProfiling",
  options: planOptions,
  faults: planFaults,
  run: profilingPlan,
  report: planReport,
});

/**
 * Before the field: whether a walk with this instrument will see a target, which frequencies add
 * nothing, and what a kilometre takes.
 *
 * The target's mark is the difference of the whole layered responses with and without it, faded at
 * its ends by the coils' footprint. Against it stand the noise of the readings, the natural
 * variation of the ground, correlated between neighbouring readings and between channels, and the
 * level of each channel, which is free. The probability is that of the best linear test for this
 * mark at the false-alarm rate asked for: Φ((δ − z)/s), with δ the test's mean and s its deviation
 * over the target, both in deviations without one, averaged over where the target falls between two
 * readings.
 *
 * @param instrument - as the survey folder describes it: channels and the height of the coils.
 * @param earth - the ground expected: conductivities (S/m, above 0) and thicknesses (m).
 * @param question - `target`: a lens (length, top, base in m; conductivity ratio) or a boundary
 *   (the ground beyond it); the rest is `PlanOptions`, what is left out is `planDefaults`.
 * @returns the probability, channels and frequencies by what they add, variants of spacing and
 *   height, and the effort. Nothing may be missing: NaN is a fault.
 * @throws StepError with every fault.
 * Limits: the shape and depth of the target are taken as known to the test, so this is the most
 *   that any reading of the data can see; the target goes on across the line; no metal, no drift.
 * Source: Kay 1998 (detection); McNeill 1980 and reciprocity (footprint); walking speed: common
 *   practice.
 * @example
 * planProfiling(
 *   { height_m: 0.9, channels: [{ field: "q", kind: "quadrature", unit: "ppm",
 *     frequency_Hz: 10000, separation_m: 1.8, orientation: "HCP" }] },
 *   { conductivity_S_per_m: [0.02], thickness_m: [] },
 *   { target: { kind: "lens", length_m: 20, top_m: 1, base_m: 3, conductivityRatio: 0.3 } },
 * ).value.effort.readings_per_km // 1000
 */
export function planProfiling(
  instrument: Instrument,
  earth: ConductiveEarth,
  question: ProfilingQuestion,
): StepResult<ProfilingPlan> {
  const { target, ...options } = question ?? {};
  return runStep(planStep, { instrument, earth, target }, options);
}
