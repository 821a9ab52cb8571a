import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Survey } from "../survey.js";
import { temperatureReport } from "./account.js";
import { temperaturesAtCampaigns } from "./at-campaigns.js";
import type { SoilTemperatures } from "./temperatures.js";

export const temperatureStep = defineStep({
  name: "soilTemperature",
  options: {},
  run: temperaturesAtCampaigns,
  report: temperatureReport,
});

/**
 * Soil temperature by depth and season, and what it does to conductivity: the damped annual wave
 * fitted to the survey's measurements, the temperature at each campaign's date from 0.2 to 6 m, and
 * the factor that takes a conductivity there to 25 °C (see `temperatureProfile` and `factorTo25`).
 *
 * @param given the survey, or the result of `openSurvey`
 * @returns temperatures and factors by campaign; two figures; no readings are handled Missing
 * values: campaigns without times or near measurements have NaN. Limits: not below freezing.
 * Sources: Carslaw & Jaeger 1959, 2.6; Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005.
 * @example soilTemperature(survey).value.wave?.mean_degC // 10.61
 */
export function soilTemperature(given: Given<Survey>): StepResult<SoilTemperatures> {
  return runStep(temperatureStep, resultValue(given), {});
}
