import { type Fault, quoted, StepError } from "../numerics/step-error.js";
import { type Given, resultValue, StepResult } from "../result/step-result.js";
import { accountFor } from "../survey/fate.js";
import type { Campaign } from "../survey/survey.js";
import { type JudgedDrift, passWithoutDrift } from "./apply-drift.js";
import { passWithoutZero, withoutOwnDrift } from "./apply-zero.js";
import { channelsByField } from "./channel-name.js";
import type { DriftCorrected } from "./drift.js";

import { type DriftOptions, driftDefaults, driftOptionFaults } from "./drift-options.js";
import { driftBasis, driftCautions, driftSummary, driftTable, zeroTables } from "./drift-report.js";
import { driftFigures } from "./figure.js";
import { type CampaignFits, fitCampaign } from "./fit-campaign.js";
import { judgeDrift } from "./judge-drift.js";
import { type HeightReading, zeroLevel } from "./zero-level.js";

export type { DriftOptions } from "./drift-options.js";

/**
 * Removes the drift of the instrument, channel by channel, with the repeats at a fixed spot.
 *
 * Rule: the repeats of each visit to the spot give one mean, one bad repeat notwithstanding; through
 * the means runs a drift curve, by the model that foretells left-out visits best: straight from visit
 * to visit, wandering about a straight line in its level (random walk), or in its slope (smoothing
 * spline). It is constant before the first and after the last visit, and 0 at the first, which is the
 * campaign's reference level. With few visits or none, readings at the same place at different times
 * (re-crossings, overlapping passes) take part by their differences. Where two visits that are close in time (or
 * have no walk between them) differ by more than their errors explain and faster than the channel
 * drifts elsewhere, the curve steps in the longest silence between them, and it may step at every
 * declared re-start. A channel is corrected where an F-test (crossings: chi-square) rejects constancy,
 * unless scatter of whole visits explains the means as well and a constant foretells left-out checks
 * better; otherwise its values stay, and the reason is given.
 *
 * `campaign`: passes of n readings with times (s) and values (channel's unit), and base checks.
 * Options: see `DriftOptions`. Output: the campaign with new value arrays, and `drift`, one entry a
 * channel; each pass carries `driftSd`, what the correction may have left. A missing value stays missing; a reading without a time keeps its value, with a caution;
 * a channel without checks has model "none". Flags of readings set aside stay as they are.
 *
 * Limits: a spot has one level for the whole campaign. Where several spots were used, a channel
 * takes the one that was visited most. Drift between two visits is not seen beyond its straight line.
 * Coils that are set down a little differently at each visit look like drift: few visits cannot tell.
 * Throws StepError with every fault of the options and of the campaign's shape.
 *
 * Source: common practice (base-station repeats); Paulson 1942 for the F-test.
 *
 * @example correctDrift(survey.campaigns[0]).value.drift[0].perHour; // 59.4 (ppm)
 */
export function correctDrift(
  campaign: Given<Campaign>,
  options: DriftOptions = {},
): StepResult<DriftCorrected> {
  const used = { ...driftDefaults, ...options };
  const given = resultValue(campaign);
  const faults = [...campaignFaults(given), ...driftOptionFaults(used)];
  if (faults.length > 0) throw new StepError("correctDrift", faults);
  const fits = fitCampaign(given, used);
  const value = withoutDrift(given, fits, used);
  return new StepResult({
    step: "correctDrift",
    summary: driftSummary(value),
    value,
    used,
    basis: driftBasis,
    cautions: driftCautions(value, fits),
    accounting: accountFor([value]),
    figures: driftFigures(value, fits),
    tables: [driftTable(value), ...zeroTables(value)],
  });
}

function withoutDrift(
  campaign: Campaign,
  fits: CampaignFits,
  used: Required<DriftOptions>,
): DriftCorrected {
  const drift = channelsByField(campaign.passes).map(({ field }) =>
    judgeDrift({ campaign: campaign.label, channel: field }, fits.get(field), used),
  );
  const judged = new Map(
    drift.flatMap(({ channel, model }) => {
      const fit = fits.get(channel);
      if (fit === undefined) return [];
      const curve = model === "none" ? null : fit.chosen!.curve;
      return [[channel, { curve, unevenness: fit.unevenness }] as const];
    }),
  );
  const passes = campaign.passes.map((pass) => passWithoutDrift(pass, judged));
  const value = { ...campaign, passes, drift };
  return used.heightTest === null ? value : levelled(value, used.heightTest, judged);
}

/** The zero levels of a height test taken off, its own drift first. */
function levelled(
  value: DriftCorrected,
  readings: readonly HeightReading[],
  judged: ReadonlyMap<string, JudgedDrift>,
): DriftCorrected {
  const still = readings.map((one) => withoutOwnDrift(one, judged));
  const found = zeroLevel(still, channelsByField(value.passes));
  const passes = value.passes.map((pass) => passWithoutZero(pass, found.channels));
  return { ...value, passes, zeroLevel: found };
}

/** Faults of a value that should be a campaign. */
export function campaignFaults(campaign: unknown): Fault[] {
  const { passes, baseChecks } = (campaign ?? {}) as Partial<Campaign>;
  if (Array.isArray(passes) && Array.isArray(baseChecks)) return [];
  const expected = "a campaign, such as survey.campaigns[0], or a step's result that holds one";
  const hint = "a survey holds several campaigns: give one of them";
  const received = quoted(campaign);
  return [{ code: "not-a-campaign", path: "campaign", expected, received, hint }];
}
