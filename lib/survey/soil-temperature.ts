import { factorTo25 } from "../earth/temperature.js";
import { type TemperatureProfile, temperatureProfile } from "../earth/temperature-profile.js";
import { type CurveSeries, curveSpec } from "../figures/curve.js";
import type { Figure, Table } from "../result/figure.js";
import type { Basis, Caution } from "../result/step-account.js";
import { type Given, resultValue, StepResult } from "../result/step-result.js";
import { timeSpan } from "./campaigns.js";
import { utcText } from "./iso-time.js";
import type { Campaign, SoilTemperature, Survey } from "./survey.js";

const STEP = "soilTemperature";

/** The soil's temperature at the date of one campaign. */
export interface CampaignTemperature {
  readonly campaign: string;
  /** Middle of the readings, s since 1970; NaN without times. */
  readonly time_s: number;
  /** k temperatures at `depths_m`, °C; NaN where nothing reaches the date. */
  readonly temperature_degC: readonly number[];
  /** k factors by which a conductivity is multiplied to bring it to 25 °C. */
  readonly factorTo25: readonly number[];
  readonly method: "annual wave" | "interpolated" | "none";
}

export interface SoilTemperatures {
  /** k depths, m. */
  readonly depths_m: readonly number[];
  readonly campaigns: readonly CampaignTemperature[];
  /** The annual wave fitted to all measurements; null where they do not determine one. */
  readonly wave: {
    readonly mean_degC: number;
    readonly amplitude_degC: number;
    readonly damping_m: number;
    readonly rms_degC: number;
  } | null;
}

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
    step: STEP,
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

function summaryOf({ campaigns, wave }: SoilTemperatures): string {
  const known = campaigns.filter(({ method }) => method !== "none");
  if (known.length === 0)
    return "No soil temperature is near the readings; nothing is brought to 25 °C by it.";
  const season =
    wave === null
      ? "The measurements do not determine an annual wave."
      : `The soil swings about ${wave.mean_degC.toFixed(1)} °C by ${wave.amplitude_degC.toFixed(1)} °C at the surface and by 1/e of that at ${wave.damping_m.toFixed(1)} m.`;
  const at = known.map(({ campaign, temperature_degC, factorTo25: factors }) => {
    const k = DEPTHS_M.indexOf(1);
    return `${campaign} ${temperature_degC[k]!.toFixed(1)} °C (conductivity × ${factors[k]!.toFixed(2)} to 25 °C)`;
  });
  return `${season} At 1 m depth: ${at.join(", ")}.`;
}

function basisOf({ wave }: SoilTemperatures): readonly Basis[] {
  return [
    {
      statement:
        wave === null
          ? "Temperatures are interpolated in depth between those measured nearest in time, up to 45 days off."
          : "A damped annual wave, as heat conduction has it, is fitted to all soil temperatures by least squares.",
      source:
        wave === null
          ? "common practice"
          : "Carslaw & Jaeger 1959, Conduction of Heat in Solids, 2.6",
    },
    {
      statement: "Conductivity goes to 25 °C by the factor 0.4470 + 1.4034 exp(−T/26.815).",
      source: "Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005",
    },
  ];
}

function cautionsOf(
  { campaigns }: SoilTemperatures,
  profiles: readonly (TemperatureProfile | null)[],
): readonly Caution[] {
  const texts = campaigns.flatMap(({ campaign, method, factorTo25: factors }, i) => {
    const profile = profiles[i] ?? null;
    if (method === "none" || profile === null) {
      return [
        `${campaign}: no soil temperature within reach of its date; its conductivities keep the field's temperature.`,
      ];
    }
    const out: string[] = [];
    if (factors.some(Number.isNaN))
      out.push(
        `${campaign}: the soil is taken to be frozen at some depth, where the factor has no meaning.`,
      );
    if (profile.nearest_days > 45)
      out.push(
        `${campaign}: the nearest soil temperature is ${Math.round(profile.nearest_days)} days off its date; the wave alone speaks.`,
      );
    return out;
  });
  const deepest = Math.max(...profiles.map((profile) => profile?.measuredTo_m ?? 0));
  if (deepest > 0 && deepest < DEPTHS_M.at(-1)!) {
    texts.push(`Below ${deepest} m no temperature was measured; there it is extrapolated.`);
  }
  return texts.map((text) => ({ step: STEP, text }));
}

interface Season {
  readonly value: SoilTemperatures;
  readonly wave: TemperatureProfile["wave"];
}

/** Measured temperatures over the year with the wave through them; none where they are no year's. */
function seasonFigure(survey: Survey, { value, wave }: Season): readonly Figure[] {
  const measured = survey.soilTemperature;
  if (measured.length === 0) return [];
  const depths = [...new Set(measured.map(({ depth_m }) => depth_m))].sort((a, b) => a - b);
  const shown = depths.filter(
    (_, i) => depths.length <= 6 || i % Math.ceil(depths.length / 6) === 0,
  );
  const times = [...measured, ...value.campaigns]
    .map(({ time_s }) => time_s)
    .filter(Number.isFinite);
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const margin = 0.04 * (last - first) + 86_400;
  const grid = Array.from(
    { length: 120 },
    (_, i) => first - margin + ((last - first + 2 * margin) * i) / 119,
  );
  const series = shown.flatMap((depth_m): CurveSeries[] => {
    const own = measured.filter((row) => row.depth_m === depth_m);
    const name = `${depth_m} m`;
    const points: CurveSeries = {
      ...{ name, form: "points" },
      x: own.map(({ time_s }) => time_s),
      y: own.map(({ temperature_degC }) => temperature_degC),
    };
    if (wave === null) return [points];
    return [
      points,
      { name, form: "line", x: grid, y: grid.map((time_s) => wave.at(depth_m, time_s)) },
    ];
  });
  const marks = value.campaigns
    .filter(({ time_s }) => Number.isFinite(time_s))
    .map(({ campaign, time_s }) => ({ at: time_s, text: campaign }));
  const title =
    wave === null
      ? "Soil temperatures as measured; they do not determine an annual wave"
      : `The soil's annual wave fits the measured temperatures to ${wave.rms_degC.toFixed(1)} °C and fades with depth`;
  const spec = curveSpec({
    title,
    x: { label: "Date (UTC)", scale: "time" },
    y: { label: "Soil temperature (°C)", scale: "linear" },
    plots: [{ label: "", series, marks }],
    legend: "Depth",
    columns: 1,
  });
  const caption =
    "Points: measured soil temperatures by depth; lines of the same colour: the damped annual wave " +
    "fitted to all of them; dashed: the campaigns.";
  return [{ id: "soil-temperature-season", title, caption, spec }];
}

/** Temperature against depth at each campaign, and the factor to 25 °C beside it. */
function depthFigure({ campaigns }: SoilTemperatures): Figure {
  const known = campaigns.filter(({ method }) => method !== "none");
  const series = (of: (one: CampaignTemperature) => readonly number[]): CurveSeries[] =>
    known.map((one) => ({ name: one.campaign, form: "line", x: DEPTHS_M, y: of(one) }));
  const title = effectTitle(known);
  const spec = curveSpec({
    title,
    x: { label: "Depth (m)", scale: "linear", withZero: true },
    y: { label: "", scale: "linear" },
    sameY: false,
    plots: [
      { label: "Soil temperature (°C)", series: series((one) => one.temperature_degC) },
      { label: "Conductivity × this = at 25 °C", series: series((one) => one.factorTo25) },
    ],
    legend: "Campaign",
  });
  const caption =
    "Left: soil temperature by depth at the date of each campaign. Right: the factor by which a " +
    "conductivity measured there is multiplied to bring it to 25 °C; where the curves differ, the " +
    "season alone makes the campaigns differ by their ratio.";
  return { id: "soil-temperature-depth", title, caption, spec };
}

/** By how much the season alone makes two campaigns differ. */
function effectTitle(known: readonly CampaignTemperature[]): string {
  const ratios = DEPTHS_M.map((depth_m, k) => {
    const factors = known.map((one) => one.factorTo25[k]!);
    return { depth_m, ratio: Math.max(...factors) / Math.min(...factors) };
  });
  const worst = ratios.reduce((most, one) => (one.ratio > most.ratio ? one : most));
  if (known.length < 2 || !(worst.ratio > 1.005))
    return "Soil temperature and what it does to conductivity";
  return `The season alone changes conductivity by up to ${(100 * (worst.ratio - 1)).toFixed(0)} % between campaigns, at ${worst.depth_m} m depth`;
}

function tableOf({ campaigns, depths_m }: SoilTemperatures): Table {
  return {
    id: "soil-temperature",
    caption: "Soil temperature by depth at each campaign, and the factor to 25 °C.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "date", label: "Date" },
      { field: "depth_m", label: "Depth (m)", digits: 1 },
      { field: "temperature_degC", label: "Temperature (°C)", digits: 1 },
      { field: "factor", label: "Factor to 25 °C", digits: 3 },
    ],
    rows: campaigns.flatMap((one) =>
      depths_m.map((depth_m, k) => ({
        campaign: one.campaign,
        date: utcText(one.time_s)?.slice(0, 10) ?? null,
        depth_m,
        temperature_degC: one.temperature_degC[k]!,
        factor: one.factorTo25[k]!,
      })),
    ),
  };
}
