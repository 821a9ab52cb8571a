import { defineStep, runStep } from "../../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../../step/step-result.js";
import type { Campaign } from "../../../survey/survey.js";
import { nominalFaults, nominalReport } from "./account.js";
import type { NominalView } from "./nominal.js";
import { nominalViewOf } from "./nominal-view-of.js";
import { type NominalOptions, nominalOptions } from "./options.js";

export const nominalStep = defineStep({
  name: "nominalView",
  options: nominalOptions,
  faults: nominalFaults,
  run: nominalViewOf,
  report: nominalReport,
});

/**
 * The customary view of a campaign: apparent conductivity by channel with its nominal depth, named
 * as nominal, and how much of each channel's information the other channels hold as well.
 *
 * σ_a = 4 Im(Hs/Hp)/(ωμ₀s²) of each quadrature channel; a conductivity channel as it stands. The
 * nominal depth is that of `nominalDepth`: one for each coil pair, whatever the frequency. The
 * share is 1 − added/alone, of the information (nats) that a channel adds to the others and that it
 * gives alone, over an even ground with the prior that `estimateDepthSlices` takes by default.
 *
 * @param campaign - a campaign or the result of the step before; set-aside readings are absent.
 *   In-phase channels state no conductivity and are left out.
 * @param options - see `NominalOptions`; what is left out is `nominalDefaults`.
 * @returns n stations × c channels in mS/m, NaN where a station has no reading in use.
 * @throws StepError for options out of range, or a campaign without such a channel or positions.
 * Limits: a quick look. For resistivity by depth with its uncertainty use `estimateDepthSlices`.
 * Source: McNeill 1980, Technical Note 6; Rodgers 2000 (information).
 * @example nominalView(masked).value.channels.length // 10
 */
export function nominalView(
  campaign: Given<Campaign>,
  options: Partial<NominalOptions> = {},
): StepResult<NominalView> {
  return runStep(nominalStep, resultValue(campaign), options);
}
