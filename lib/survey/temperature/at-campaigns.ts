import { factorTo25 } from "../../earth/temperature.js";
import { type TemperatureProfile, temperatureProfile } from "../../earth/temperature-profile.js";
import type { Campaign, SoilTemperature, Survey } from "../survey.js";
import { timeSpan } from "../time-span.js";
import type { CampaignTemperature, SoilTemperatures } from "./temperatures.js";

const DEPTHS_M = [0.2, 0.5, 1, 1.5, 2, 3, 4, 6];

export interface FittedTemperatures {
  readonly value: SoilTemperatures;
  /** For each campaign; null where no measurement is near its date. */
  readonly profiles: readonly (TemperatureProfile | null)[];
  readonly wave: TemperatureProfile["wave"];
}

/** The profile at each campaign's date, and the annual wave behind it. */
export function temperaturesAtCampaigns(survey: Survey): FittedTemperatures {
  const fitted = survey.campaigns.map((campaign) => {
    const { first_s, last_s } = timeSpan(campaign.passes);
    const time_s = (first_s + last_s) / 2;
    const profile = temperatureProfile(measurementsFor(survey, campaign), time_s);
    return { profile, at: atDate(campaign, time_s, profile) };
  });
  const profiles = fitted.map(({ profile }) => profile);
  const wave = profiles.find((profile) => profile?.wave)?.wave ?? null;
  const value: SoilTemperatures = {
    depths_m: DEPTHS_M,
    campaigns: fitted.map(({ at }) => at),
    wave: wave && {
      mean_degC: wave.mean_degC,
      amplitude_degC: wave.amplitude_degC,
      damping_m: wave.damping_m,
      rms_degC: wave.rms_degC,
    },
  };
  return { value, profiles, wave };
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
