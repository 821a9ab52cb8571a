import { factorTo25 } from "../../earth/temperature.js";
import { type TemperatureProfile, temperatureProfile } from "../../earth/temperature-profile.js";
import { type Given, resultValue, StepResult } from "../../step/step-result.js";
import type { Campaign, SoilTemperature, Survey } from "../survey.js";
import { timeSpan } from "../time-span.js";
import { depthFigure, seasonFigure, tableOf } from "./soil-temperature-figures.js";
import { basisOf, cautionsOf, summaryOf } from "./soil-temperature-text.js";
import type { CampaignTemperature, SoilTemperatures } from "./soil-temperature-types.js";

const DEPTHS_M = [0.2, 0.5, 1, 1.5, 2, 3, 4, 6];

/**
 * Soil temperature by depth and season, and what it does to conductivity: the damped annual wave fitted
 * to the survey's measurements, the temperature at each campaign's date from 0.2 to 6 m, and the factor
 * that takes a conductivity there to 25 °C (see `temperatureProfile` and `factorTo25`).
 *
 * @param given the survey, or the result of `openSurvey`
 * @returns temperatures and factors by campaign; two figures; no readings are handled
 * Missing values: campaigns without times or near measurements have NaN. Limits: not below freezing.
 * Sources: Carslaw & Jaeger 1959, 2.6; Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005.
 * @example soilTemperature(survey).value.wave?.mean_degC // 10.61
 */
export function soilTemperature(given: Given<Survey>): StepResult<SoilTemperatures> {
  const survey = resultValue(given);
  const dated = survey.campaigns.map((campaign) => ({ campaign, ...dateOf(campaign) }));
  const profiles = dated.map(({ campaign, time_s }) =>
    temperatureProfile(measurementsFor(survey, campaign), time_s),
  );
  const campaigns = dated.map(({ campaign, time_s }, i) => atDate(campaign, time_s, profiles[i]!));
  const wave = profiles.find((profile) => profile?.wave)?.wave ?? null;
  const value: SoilTemperatures = {
    depths_m: DEPTHS_M,
    campaigns,
    wave: wave && {
      mean_degC: wave.mean_degC,
      amplitude_degC: wave.amplitude_degC,
      damping_m: wave.damping_m,
      rms_degC: wave.rms_degC,
    },
  };
  const known = campaigns.filter(({ method }) => method !== "none");
  return new StepResult({
    step: "soilTemperature",
    summary: summaryOf(value),
    value,
    used: {},
    basis: basisOf(value),
    cautions: cautionsOf(value, profiles),
    accounting: null,
    figures:
      known.length === 0 ? [] : [...seasonFigure(survey, { value, wave }), depthFigure(value)],
    tables: [tableOf(value)],
  });
}

function dateOf({ passes }: Campaign): { readonly time_s: number } {
  const { first_s, last_s } = timeSpan(passes);
  return { time_s: (first_s + last_s) / 2 };
}

/** All the survey's measurements determine the wave; without them the campaign's own serve. */
function measurementsFor(survey: Survey, campaign: Campaign): readonly SoilTemperature[] {
  return survey.soilTemperature.length > 0 ? survey.soilTemperature : campaign.soilTemperature;
}

function atDate(
  { label }: Campaign,
  time_s: number,
  profile: TemperatureProfile | null,
): CampaignTemperature {
  const temperature_degC = DEPTHS_M.map((depth_m) => profile?.at(depth_m) ?? Number.NaN);
  const factors = temperature_degC.map(factorTo25);
  const method = profile?.method ?? "none";
  return { campaign: label, time_s, temperature_degC, factorTo25: factors, method };
}
