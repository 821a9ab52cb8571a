import { campaignFaults } from "../drift/campaign-faults.js";
import { defineStep, runStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import type { Campaign } from "../survey/survey.js";
import { maskReport } from "./account.js";
import { maskCampaign } from "./mask-campaign.js";
import type { Masked } from "./masked.js";
import { type MaskOptions, maskOptions } from "./options.js";

export const maskStep = defineStep({
  name: "maskInterference",
  options: maskOptions,
  faults: (campaign: Campaign, used) => [...campaignFaults(campaign), ...orderFaults(used)],
  run: maskCampaign,
  report: maskReport,
});

/**
 * Sets aside the stretches of a campaign that metal distorts: those noted in the field, and those
 * that the readings themselves show.
 *
 * Rule for notes: an object of kind `metal` or `structure` reaches beyond its ends by the coils'
 * separation and height and the error of positions.
 * Rule for single objects: the anomaly of a reading, its departure from the levels before and after
 * it, is weighed against noise and the covariance that changes of a layered ground and of the
 * coils' height give the channels. What is left, summed over channels, is a standard normal score
 * on undisturbed ground. A matched filter for a small conductive body stands beside it, and counts
 * where it explains at least 0.35 of the anomaly nearby. From `threshold` on a stretch is detected;
 * it grows while the score stays above `growTo`. A run wider than three separations whose readings
 * themselves some layered ground explains is ground. A burst of noise is not metal: its readings do not
 * move along one spectrum, or in one frequency only, or the other walk past the place shows
 * nothing.
 * Rule for objects along the line: stretches of 30 m or more where the medians of all channels of
 * all walks lie further from every layered ground, on the bank's own shape, than elsewhere along the line
 * (`alongLine`).
 * A stretch found in one pass is set aside in all channels of all passes on lines within reach.
 *
 * @param campaign - passes of n readings with chainage (m) and values (channel's unit), and notes.
 * @param options - see `MaskOptions`; what is left out is `maskDefaults`.
 * @returns the campaign with readings flagged and causes added, the stretches, those that nobody
 *   noted (`unexplained`), the notes that no channel shows (`silentNotes`; their readings stay in
 *   use unless `maskSilent`), and the noise found. Missing values, readings without position and
 *   readings set aside before take no part.
 * @throws StepError with every fault of the options and of the campaign's shape.
 * Limits: metal whose decay is so short that it responds like ground is missed most. A shift along
 * the line that is small, or covers more than two fifths of it, cannot be told from ground: its
 * note is needed. With fewer channels than the ground has modes, a stretch must show swings of both
 * signs; a caution says so. Magnetic soil looks like metal.
 * Source: common practice (notes); Wait 1982 (layered response); Wilson & Hilferty 1931 (score).
 * @example maskInterference(correctDrift(survey.campaigns[0])).value.unexplained.length; // 2
 */
export function maskInterference(
  campaign: Given<Campaign>,
  options: Partial<MaskOptions> = {},
): StepResult<Masked> {
  return runStep(maskStep, resultValue(campaign), options);
}

function orderFaults({ growTo, threshold }: MaskOptions) {
  if (growTo <= threshold) return [];
  const received = `${growTo} with a threshold of ${threshold}`;
  const expected = "at most options.threshold";
  return [{ code: "option-order", path: "options.growTo", expected, received }];
}
