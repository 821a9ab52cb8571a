import type { TemperatureProfile } from "../../earth/temperature-profile.js";
import { itemAt, lastOf, zipped } from "../../numerics/arrays.js";
import type { StepReport } from "../../step/define-step.js";
import type { Basis } from "../../step/step-account.js";
import type { Survey } from "../survey.js";
import type { FittedTemperatures } from "./at-campaigns.js";
import { temperatureFigures } from "./figures.js";
import { temperatureTable } from "./tables.js";
import type { CampaignTemperature, SoilTemperatures } from "./temperatures.js";

/** What `soilTemperature` says of itself. */
export function temperatureReport(
  fitted: FittedTemperatures,
  _used: unknown,
  survey: Survey,
): StepReport<SoilTemperatures> {
  const { value } = fitted;
  return {
    value,
    summary: summaryOf(value),
    basis: basisOf(value),
    cautions: cautionsOf(fitted),
    figures: temperatureFigures(survey, fitted),
    tables: [temperatureTable(value)],
  };
}

function summaryOf({ campaigns, depths_m, wave }: SoilTemperatures): string {
  const known = campaigns.filter(({ method }) => method !== "none");
  if (known.length === 0)
    return "No soil temperature is near the readings; nothing is brought to 25 °C by it.";
  const season =
    wave === null
      ? "The measurements do not determine an annual wave."
      : `The soil swings about ${wave.mean_degC.toFixed(1)} °C by ` +
        `${wave.amplitude_degC.toFixed(1)} °C at the surface and by 1/e of that at ` +
        `${wave.damping_m.toFixed(1)} m.`;
  const k = depths_m.indexOf(1);
  const at = known.map(({ campaign, temperature_degC, factorTo25 }) => {
    const effect = `(conductivity × ${itemAt(factorTo25, k).toFixed(2)} to 25 °C)`;
    return `${campaign} ${itemAt(temperature_degC, k).toFixed(1)} °C ${effect}`;
  });
  return `${season} At 1 m depth: ${at.join(", ")}.`;
}

function basisOf({ wave }: SoilTemperatures): readonly Basis[] {
  return [
    wave === null ? INTERPOLATED : WAVE,
    {
      statement: "Conductivity goes to 25 °C by the factor 0.4470 + 1.4034 exp(−T/26.815).",
      source: "Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005",
    },
  ];
}

const WAVE: Basis = {
  statement:
    "A damped annual wave, as heat conduction has it, is fitted to all soil temperatures by " +
    "least squares.",
  source: "Carslaw & Jaeger 1959, Conduction of Heat in Solids, 2.6",
};

const INTERPOLATED: Basis = {
  statement:
    "Temperatures are interpolated in depth between those measured nearest in time, up to 45 " +
    "days off.",
  source: "common practice",
};

function cautionsOf({ value, profiles }: FittedTemperatures): readonly string[] {
  const texts = zipped(value.campaigns, profiles).flatMap(campaignTexts);
  const deepest = Math.max(...profiles.map((profile) => profile?.measuredTo_m ?? 0));
  const below = `Below ${deepest} m no temperature was measured; there it is extrapolated.`;
  return deepest > 0 && deepest < lastOf(value.depths_m) ? [...texts, below] : texts;
}

function campaignTexts([{ campaign, factorTo25 }, profile]: readonly [
  CampaignTemperature,
  TemperatureProfile | null,
]): readonly string[] {
  const none =
    `${campaign}: no soil temperature within reach of its date; its conductivities keep the ` +
    "field's temperature.";
  if (profile === null) return [none];
  const frozen =
    `${campaign}: the soil is taken to be frozen at some depth, where the factor has no ` +
    "meaning.";
  const far =
    `${campaign}: the nearest soil temperature is ${Math.round(profile.nearest_days)} days off ` +
    "its date; the wave alone speaks.";
  const isFrozen = factorTo25.some(Number.isNaN);
  return [...(isFrozen ? [frozen] : []), ...(profile.nearest_days > 45 ? [far] : [])];
}
