import type { DepthSlices } from "../../depth/depth-slices.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import { campaignsFaults } from "../check-campaigns.js";
import { trendReport } from "./account.js";
import { type TrendOptions, trendOptions } from "./options.js";
import type { CampaignTrend } from "./trend.js";
import { trendAlong } from "./trend-along.js";

export const trendStep = defineStep({
  name: "trendOverCampaigns",
  options: trendOptions,
  faults: (given: readonly DepthSlices[]) => campaignsFaults(given, 3),
  run: trendAlong,
  report: trendReport,
});

/**
 * Finds monotonic trends of the ground's resistivity over five campaigns or more.
 *
 * Every campaign is co-registered to the first, corrected to 25 °C, and its level taken off. Each
 * station and slice gets the Theil-Sen slope a year and its Mann-Kendall test; stretches of
 * stations with a trend of one sign are tested as wholes against the other orders of the campaigns
 * (`trendStretches`), which controls the probability of any false stretch and allows for errors
 * that neighbouring stations and slices share.
 *
 * @param slices three or more campaigns, in any order, plain or as results of
 *   `estimateDepthSlices`.
 * @param options see `trendOptions`; what is left out is `trendDefaults`.
 * @returns slopes (log10 a year), p-values of single stations, and the stretches.
 *
 * Three or four campaigns give slopes, but no stretch, and a caution that says why. Missing values:
 * a station needs an estimate in five campaigns to count; the first campaign's stations rule.
 *
 * Limits: with ten campaigns or more the variance of S is raised for serial correlation (pooled
 * over the line); with fewer it cannot be estimated, and moisture that lingers can look like a
 * trend. Slopes are those of the estimates: where these are drawn to their prior, they are a lower
 * bound of the trend. With a level removed, a trend of the whole line is not detected.
 *
 * Throws a StepError with every fault of the campaigns and options.
 *
 * Source: Sen 1968; Mann 1945, Kendall 1975; Nichols & Holmes 2002 (stretches by permutation).
 *
 * @example trendOverCampaigns([autumn, spring, autumn, spring, autumn]).value.campaigns.length // 5
 */
export function trendOverCampaigns(
  slices: readonly Given<DepthSlices>[],
  options: Partial<TrendOptions> = {},
): StepResult<CampaignTrend> {
  return runStep(trendStep, slices.map(resultValue), options);
}
