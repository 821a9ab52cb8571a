import { type CurveSeries, curveSpec } from "../../figures/curve/curve.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import type { Survey } from "../survey.js";
import type { FittedTemperatures } from "./at-campaigns.js";
import type { CampaignTemperature, SoilTemperatures } from "./temperatures.js";

/** The wave through the year's measurements, and the profile at each campaign. */
export function temperatureFigures(survey: Survey, fitted: FittedTemperatures): readonly Figure[] {
  if (fitted.value.campaigns.every(({ method }) => method === "none")) return [];
  const season = survey.soilTemperature.length === 0 ? [] : [seasonFigure(survey, fitted)];
  return [...season, depthFigure(fitted.value)];
}

function seasonFigure({ soilTemperature }: Survey, { value, wave }: FittedTemperatures): Figure {
  const dated = value.campaigns.filter(({ time_s }) => Number.isFinite(time_s));
  const times_s = [...soilTemperature, ...dated].map(({ time_s }) => time_s);
  const grid_s = gridOver(times_s.filter(Number.isFinite));
  const series = shownDepths(soilTemperature).flatMap((depth_m): CurveSeries[] => {
    const name = `${depth_m} m`;
    const own = soilTemperature.filter((row) => row.depth_m === depth_m);
    const x = own.map(({ time_s }) => time_s);
    const y = own.map(({ temperature_degC }) => temperature_degC);
    const points: CurveSeries = { name, form: "points", x, y };
    if (wave === null) return [points];
    const fitted = grid_s.map((time_s) => wave.at(depth_m, time_s));
    return [points, { name, form: "line", x: grid_s, y: fitted }];
  });
  const marks = dated.map(({ campaign, time_s }) => ({ at: time_s, text: campaign }));
  const title =
    wave === null
      ? "Soil temperatures as measured; they do not determine an annual wave"
      : "The soil's annual wave fits the measured temperatures to " +
        `${wave.rms_degC.toFixed(1)} °C and fades with depth`;
  const spec = curveSpec({
    title,
    x: { label: "Date (UTC)", scale: "time" },
    y: { label: "Soil temperature (°C)", scale: "linear" },
    plots: [{ label: "", series, marks }],
    legend: "Depth",
    columns: 1,
  });
  const caption =
    "Points: measured soil temperatures by depth; lines of the same colour: the damped annual " +
    "wave fitted to all of them; dashed: the campaigns.";
  return { id: "soil-temperature-season", title, caption, spec };
}

/** Six depths or so of those measured, from the shallowest. */
function shownDepths(measured: Survey["soilTemperature"]): readonly number[] {
  const depths = [...new Set(measured.map(({ depth_m }) => depth_m))].sort((a, b) => a - b);
  return depths.filter((_, i) => i % Math.ceil(depths.length / 6) === 0);
}

function gridOver(times_s: readonly number[]): readonly number[] {
  const [first_s, last_s] = [Math.min(...times_s), Math.max(...times_s)];
  const margin_s = 0.04 * (last_s - first_s) + 86_400;
  const span_s = last_s - first_s + 2 * margin_s;
  return Array.from({ length: 120 }, (_, i) => first_s - margin_s + (span_s * i) / 119);
}

/** Temperature against depth at each campaign, and the factor to 25 °C beside it. */
function depthFigure({ campaigns, depths_m }: SoilTemperatures): Figure {
  const known = campaigns.filter(({ method }) => method !== "none");
  const series = (of: (one: CampaignTemperature) => readonly number[]): CurveSeries[] =>
    known.map((one) => ({ name: one.campaign, form: "line", x: depths_m, y: of(one) }));
  const title = effectTitle(known, depths_m);
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
    "conductivity measured there is multiplied to bring it to 25 °C; where the curves differ, " +
    "the season alone makes the campaigns differ by their ratio.";
  return { id: "soil-temperature-depth", title, caption, spec };
}

/** By how much the season alone makes two campaigns differ. */
function effectTitle(known: readonly CampaignTemperature[], depths_m: readonly number[]): string {
  const ratios = depths_m.map((depth_m, k) => {
    const factors = known.map((one) => itemAt(one.factorTo25, k));
    return { depth_m, ratio: Math.max(...factors) / Math.min(...factors) };
  });
  const worst = ratios.reduce((most, one) => (one.ratio > most.ratio ? one : most));
  if (known.length < 2 || !(worst.ratio > 1.005))
    return "Soil temperature and what it does to conductivity";
  const change_pct = (100 * (worst.ratio - 1)).toFixed(0);
  return (
    `The season alone changes conductivity by up to ${change_pct} % between campaigns, ` +
    `at ${worst.depth_m} m depth`
  );
}
