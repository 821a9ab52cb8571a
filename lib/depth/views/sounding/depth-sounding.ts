import { defineStep, runStep } from "../../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../../step/step-result.js";
import type { DepthSlices } from "../../depth-slices.js";
import { soundingFaults, soundingReport } from "./account.js";
import { type SoundingOptions, soundingOptions } from "./options.js";
import type { Sounding } from "./sounding.js";
import { soundingAt } from "./sounding-at.js";

export const soundingStep = defineStep({
  name: "depthSounding",
  options: soundingOptions,
  faults: soundingFaults,
  run: soundingAt,
  report: soundingReport,
});

/**
 * One station of a campaign as a sounding: resistivity against depth with its 80 % interval, the
 * sensitivity of each channel by depth, the variance removed layer by layer, and the nearest
 * borehole's log.
 *
 * The bounds are 10^(mean ± 1.2816 sd) of log10 resistivity. A channel's sensitivity at a depth is
 * the size of its derivative to ln conductivity in the station's estimated ground, by the whole
 * layered response; the figure shows its share above each depth. The variance removed is
 * 1 − posterior variance / prior variance.
 *
 * @param slices - what `estimateDepthSlices` gave, stations together or each by itself.
 * @param chainage_m - a place within the line, m; the nearest station with an estimate is taken,
 *   the earlier one of two.
 * @param options - see `SoundingOptions`; what is left out is `soundingDefaults`.
 * @returns the station's m layers, ohm-m at field temperature, and for each channel its shares of
 *   sensitivity by depth. Stations without an estimate are passed over, with a caution.
 * @throws StepError for a chainage off the line, options out of range, or slices without an
 *   estimate.
 * Limits: bands of layers hold one at a time, and neighbouring layers share much of their error.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding (variance removed); Ward & Hohmann
 *   1988 (response).
 * @example depthSounding(slices, 1012).value.chainage_m // 1012
 */
export function depthSounding(
  slices: Given<DepthSlices>,
  chainage_m: number,
  options: Partial<SoundingOptions> = {},
): StepResult<Sounding> {
  return runStep(soundingStep, { slices: resultValue(slices), chainage_m }, options);
}
