import type { TemperatureProfile } from "../../earth/temperature-profile.js";
import { type CurveSeries, curveSpec } from "../../figures/curve/curve.js";
import type { Figure, Table } from "../../step/figure.js";
import { utcText } from "../iso-time.js";
import type { Survey } from "../survey.js";
import type { CampaignTemperature, SoilTemperatures } from "./soil-temperature-types.js";

interface Season {
  readonly value: SoilTemperatures;
  readonly wave: TemperatureProfile["wave"];
}

/** Measured temperatures over the year with the wave through them; none where they are no year's. */
export function seasonFigure(survey: Survey, { value, wave }: Season): readonly Figure[] {
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
export function depthFigure({ campaigns, depths_m }: SoilTemperatures): Figure {
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
    "conductivity measured there is multiplied to bring it to 25 °C; where the curves differ, the " +
    "season alone makes the campaigns differ by their ratio.";
  return { id: "soil-temperature-depth", title, caption, spec };
}

/** By how much the season alone makes two campaigns differ. */
function effectTitle(known: readonly CampaignTemperature[], depths_m: readonly number[]): string {
  const ratios = depths_m.map((depth_m, k) => {
    const factors = known.map((one) => one.factorTo25[k]!);
    return { depth_m, ratio: Math.max(...factors) / Math.min(...factors) };
  });
  const worst = ratios.reduce((most, one) => (one.ratio > most.ratio ? one : most));
  if (known.length < 2 || !(worst.ratio > 1.005))
    return "Soil temperature and what it does to conductivity";
  return `The season alone changes conductivity by up to ${(100 * (worst.ratio - 1)).toFixed(0)} % between campaigns, at ${worst.depth_m} m depth`;
}

export function tableOf({ campaigns, depths_m }: SoilTemperatures): Table {
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
