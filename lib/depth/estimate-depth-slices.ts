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
 * Readings are averaged at stations of equal spacing. At each station, or of all stations jointly,
 * the maximum-a-posteriori (MAP) layered earth is found under a Gaussian prior on ln conductivity
 * and Gaussian noise, with the full layered-earth response of every coil pair. Layers are then
 * averaged (log resistivity, weighted by thickness) over a few slices: as many as the data hold
 * independent levels.
 *
 * @param campaign - a campaign or the result of the step before; set-aside readings are absent.
 *   Channels in ppm, or apparent conductivity in mS/m by the low-induction relation.
 * @param options - see `DepthOptions`; what is left out is `depthDefaults`.
 * @returns slices of log10(ohm-m) at field temperature by station, n × k, with posterior standard
 *   deviations; NaN with its reason where a station has too few channels in use.
 * @throws StepError for options outside their range, or a campaign without a position.
 * Limits: layered earths under each station, on the bank's cross-section where the survey states it
 * (low-induction fields: a fifth of its effect is in doubt at high induction numbers, for in-phase
 * half); no water beside the bank, no change of ground across it.
 * With `together: "line"` mean and spread are those of draws by randomised maximum likelihood;
 * with `together: "ensemble"`, which is on trial, those of weighted draws of broad ensembles of
 * layered earths. The calibration of both stands in tests/calibration.md.
 * Source: Ward & Hohmann 1988 (response); Tarantola 2005 (estimate); Rodgers 2000 (resolution).
 * @example (await estimateDepthSlices(masked)).value.reliableTo_m // such as 3.4
 */
export function estimateDepthSlices(
  campaign: Given<Campaign>,
  options: Partial<DepthOptions> = {},
): Promise<StepResult<DepthSlices>> {
  return runLongStep(depthStep, resultValue(campaign), options);
}
