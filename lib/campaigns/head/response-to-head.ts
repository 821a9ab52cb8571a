import type { DepthSlices } from "../../depth/depth-slices.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { WaterLevel } from "../../survey/survey.js";
import { headReport } from "./account.js";
import { headFaults } from "./check-head.js";
import { headAlong } from "./head-along.js";
import type { HeadResponse } from "./head-response.js";
import { type HeadOptions, headDefaults, headOptions } from "./options.js";

export const headStep = defineStep({
  name: "responseToHead",
  options: headOptions,
  faults: headFaults,
  run: headAlong,
  report: headReport,
});

/**
 * Regression of each stretch's resistivity on the river's level or a piezometer's head.
 *
 * Every campaign is co-registered to the first, corrected to 25 °C, and its level taken off; over
 * each stretch and slice log10 of the mean ratio to the first campaign is fitted by a straight line
 * over the head at the campaign's time less a lag. The residual variance is pooled with that of the
 * whole line (`moderatedTest`), p-values are adjusted for the lags tried and for false discoveries
 * over all stretches and slices.
 *
 * @param slices three or more campaigns, in any order, plain or as results of
 *   `estimateDepthSlices`.
 * @param survey whatever holds `waterLevels`: what `openSurvey` gave.
 * @param options see `headOptions`; what is left out is `headDefaults`.
 * @returns by stretch and slice the factor of resistivity for a metre of head, with a 90 %
 *   interval, the lag that fits best and the lags that the data allow.
 *
 * Missing values: campaigns without a level within three days, or without an estimate in a stretch,
 * are left out there. Under three with both, or where the head hardly differs, nothing is fitted.
 *
 * Limits: a straight line, and no proof of a cause: a season or a trend that goes with the head
 * looks the same, and cautions name where it could. With a level removed, a response of the whole
 * line is not detected. Lags are tried from six campaigns on.
 *
 * Throws a StepError with every fault of the campaigns and options.
 *
 * Source: Smyth 2004 (moderated t); Benjamini & Hochberg 1995 (false discoveries).
 *
 * @example responseToHead([autumn, spring], survey).step // "responseToHead"
 */
export function responseToHead(
  slices: readonly Given<DepthSlices>[],
  survey: Given<{ readonly waterLevels: readonly WaterLevel[] }>,
  options: Partial<HeadOptions> = {},
): StepResult<HeadResponse> {
  const { waterLevels } = resultValue(survey);
  const input = { slices: slices.map(resultValue), waterLevels };
  return runStep(headStep, input, { point: defaultPoint(waterLevels), ...options });
}

/** The river, or the first piezometer in the file where nobody read the river. */
function defaultPoint(levels: readonly WaterLevel[]): string {
  const { point } = headDefaults;
  return levels.some((one) => one.point === point) ? point : (levels[0]?.point ?? point);
}
