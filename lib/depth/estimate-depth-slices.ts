import { defineStep, runLongStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import type { Campaign } from "../survey/survey.js";
import { depthReport } from "./account.js";
import type { DepthSlices } from "./depth-slices.js";
import { estimatedSlices } from "./estimated-slices.js";
import { type DepthOptions, depthInputFaults, depthOptions } from "./options.js";

export const depthStep = defineStep({
  name: "estimateDepthSlices",
  options: depthOptions,
  faults: depthInputFaults,
  run: estimatedSlices,
  report: depthReport,
});

/**
 * Resistivity by depth along the crest, with its uncertainty and the depth that it is reliable to.
 *
 * Readings are averaged at stations of equal spacing. A broad ensemble of layered earths (2 to
 * 2000 ohm-m; blocks, sharp or graded, smooth or rough) is given the full layered-earth response of
 * every coil pair once, and weighted at each station by its likelihood. How common each kind of
 * ground is, and each channel's noise, are found from the line. Layers are averaged (log resistivity,
 * weighted by thickness) over a few slices: as many as the data hold independent levels.
 *
 * @param campaign - a campaign or the result of the step before; set-aside readings are absent.
 *   Channels in ppm, or apparent conductivity in mS/m by the low-induction relation.
 * @param options - see `DepthOptions`; what is left out is `depthDefaults`.
 * @returns slices of log10(ohm-m) at field temperature by station, n × k, with posterior standard
 *   deviations and quantiles, and the sides that the data bound each from; NaN with its reason where a station has too few channels in use.
 * @throws StepError for options outside their range, or a campaign without a position.
 * Limits: layered earths under each station, on the bank's cross-section where the survey states it
 * (low-induction fields: a fifth of its effect is in doubt at high induction numbers, for in-phase
 * half); no water beside the bank, no change of ground across it.
 * Stations are weighted one by one; gains and zeros count as errors of each. Ground that is like none
 * of the kinds may lie outside its interval: how often they hold stands in tests/calibration.md.
 * Source: Ward & Hohmann 1988 (response); Doucet, de Freitas & Gordon 2001 (weighted samples);
 * Dempster, Laird & Rubin 1977 (noise, kinds); Rodgers 2000 (resolution).
 * @example (await estimateDepthSlices(masked)).value.reliableTo_m // such as 3.4
 */
export function estimateDepthSlices(
  campaign: Given<Campaign>,
  options: Partial<DepthOptions> = {},
): Promise<StepResult<DepthSlices>> {
  return runLongStep(depthStep, resultValue(campaign), options);
}
