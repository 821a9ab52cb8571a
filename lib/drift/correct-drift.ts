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
 * Rule: the repeats of each visit to the spot give one mean, one bad repeat notwithstanding. What may
 * have happened between the visits is many things: no drift, a straight one, one that warms up, swings
 * or wanders, each in sizes from the checks' error to their range, with or without steps, and with more
 * or less scatter of whole visits, as when coils are set down anew. The drift curve is the average of
 * all, each by how likely its restricted likelihood makes it, so that it draws back to none where the
 * checks say little; its standard deviation is theirs together. It is constant before the first and
 * after the last visit, and 0 at the first, which is the campaign's reference level. With few visits or
 * none, readings at the same place at different times (re-crossings, overlapping passes) take part by
 * their differences. A step is supposed in the longest silence between two visits that are close in
 * time or have no walk between them, and at every declared re-start. A channel is corrected where its
 * checks are `evidence` times likelier with a drift or a step than without; otherwise its values stay,
 * and the reason is given. Other models can be asked for by name: see `DriftOptions`.
 *
 * `campaign`: passes of n readings with times (s) and values (channel's unit), and base checks.
 * Options: see `DriftOptions`. Output: the campaign with new value arrays, and `drift`, one entry a
 * channel; each pass carries `driftSd`, what the correction may have left, or the drift that may be in
 * values left as they are. A missing value stays missing; a reading without a time keeps its value,
 * with a caution; a channel without checks has model "none". Flags of readings set aside stay as they
 * are.
 *
 * Limits: a spot has one level for the whole campaign. Where several spots were used, a channel takes
 * the one that was visited most. On seeded surveys of 8 to 12 visits in 2 to 4 hours the trend left (root
 * mean square along the walk less its mean) is under one visit's standard error in 97 of 100, for swings
 * of 2 to 8 hours in 93; six visits see such swings in 70 only. Its straight line alone, end to end, is
 * known that well in 55. A small drift may be drawn back to none: the band of `driftSd` holds four in
 * five over all surveys, but fewer of those that drift little. A step in the middle of a walk, between
 * visits, is not found.
 * Throws StepError with every fault of the options and of the campaign's shape.
 *
 * Source: common practice (base-station repeats); Hoeting et al. 1999 (model averaging); Kass &
 * Raftery 1995 (evidence); Paulson 1942 for the F-test.
 *
 * @example correctDrift(survey.campaigns[0]).value.drift[0].perHour; // 59.4 (ppm)
 */
export function correctDrift(
  campaign: Given<Campaign>,
  options: Partial<DriftOptions> = {},
): StepResult<DriftCorrected> {
  return runStep(driftStep, resultValue(campaign), options);
}
