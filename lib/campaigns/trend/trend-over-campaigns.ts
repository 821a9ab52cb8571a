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
 * Finds where the resistivity of the ground goes one way over five campaigns or more.
 *
 * Every campaign is brought to the chainage of the first, to 25 °C, and freed of its level. At each
 * station and slice the Theil-Sen slope a year and the Mann-Kendall test of it; stretches of stations
 * that go one way are tested as wholes against every other order of the campaigns
 * (`trendStretches`), which holds the probability of any false stretch and allows for whatever
 * neighbouring stations and slices share.
 *
 * @param slices three or more campaigns, in any order, plain or as results of `estimateDepthSlices`.
 * @param options see `trendOptions`; what is left out is `trendDefaults`.
 * @returns slopes (log10 a year), p-values of single stations, and the stretches.
 *
 * Three or four campaigns give slopes, but no stretch, and a caution that says why. Missing values:
 * a station needs an estimate in five campaigns to count; the first campaign's stations rule.
 *
 * Limits: with ten campaigns or more the variance of S is raised for likeness between successive
 * ones (pooled over the line); with fewer it cannot be told, and moisture that lingers can look like
 * a trend. Slopes are those of the estimates: where these lean on their prior, they are the least of
 * the trend. With a level removed, a trend of the whole line is not seen.
 *
 * Throws a StepError with every fault of the campaigns and options.
 *
 * Source: Sen 1968; Mann 1945, Kendall 1975; Nichols & Holmes 2002 (stretches by permutation).
 *
 * @example LEAST_CAMPAIGNS // 5
 */
export function trendOverCampaigns(
  slices: readonly Given<DepthSlices>[],
  options: Partial<TrendOptions> = {},
): StepResult<CampaignTrend> {
  return runStep(trendStep, slices.map(resultValue), options);
}
