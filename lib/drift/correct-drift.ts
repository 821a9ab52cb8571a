import { defineStep, runStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import type { Campaign } from "../survey/survey.js";
import { driftReport } from "./account.js";
import { campaignFaults } from "./campaign-faults.js";
import type { DriftCorrected } from "./drift.js";
import { type DriftOptions, driftOptions } from "./options.js";
import { removedDrift } from "./remove-drift.js";

export const driftStep = defineStep({
  name: "correctDrift",
  options: driftOptions,
  faults: campaignFaults,
  run: removedDrift,
  report: driftReport,
});

/**
 * Removes the drift of the instrument, channel by channel, with the repeats at a fixed spot.
 *
 * Rule: the repeats of each visit to the spot give one mean, robust against one bad repeat. The
 * drift between the visits is the Bayesian average over hypotheses: no drift, a straight one, one
 * that warms up, swings or wanders, each in sizes from the checks' error to their range, with or
 * without steps, and with more or less scatter of whole visits, as when coils are set down anew.
 * Each is weighted by its restricted likelihood, so that the curve shrinks to none where the checks
 * do not determine it; its variance is that of the mixture. It is constant before the first and
 * after the last visit, and 0 at the first, which is the campaign's reference level. With few
 * visits or none, crossovers (readings at the same place at different times) take part by their
 * differences. Where visits have few repeats or one, their error is filled up with the noise of a
 * reading on the walk. A step is possible in the longest silence between two visits that are close
 * in time or have no walk between them, and at every declared re-start. A channel is corrected
 * where the Bayes factor of a drift or a step against none exceeds `evidence`; otherwise its values
 * stay, and the reason is given.
 *
 * @param campaign - passes of n readings with times (s) and values (channel's unit), and base
 * checks.
 * @param options - see `DriftOptions`; what is left out is `driftDefaults`.
 * @returns the campaign with new value arrays, and `drift`, one entry a channel; each pass carries
 * `driftSd`, the standard deviation of what the correction may have left, or of the drift that may
 * be in values left as they are; without a check, after a single one and on a day without one it is
 * `unseenDrift`. A missing value stays missing; a reading without a time keeps its
 * value, with a caution; a channel without checks has model "none". Flags of readings set aside
 * stay.
 *
 * Limits: a spot has one level for the whole campaign. Where several spots were used, a channel
 * takes the one that was visited most. A step in the middle of a walk, between visits, is not
 * found, and a small drift may shrink to none. How much drift is left on seeded surveys:
 * tests/calibration.md.
 * @throws StepError with every fault of the options and of the campaign's shape.
 *
 * Source: common practice (base-station repeats); Hoeting et al. 1999 (model averaging); Kass &
 * Raftery 1995 (Bayes factor); Matheron 1963 (nugget); Paulson 1942 for the F-test.
 *
 * @example correctDrift(survey.campaigns[0]).value.drift[0].perHour; // 59.4 (ppm)
 */
export function correctDrift(
  campaign: Given<Campaign>,
  options: Partial<DriftOptions> = {},
): StepResult<DriftCorrected> {
  return runStep(driftStep, resultValue(campaign), options);
}
