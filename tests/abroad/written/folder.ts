import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { MadeCampaign, MadeWalk } from "../field/walked-campaign.js";
import type { MadeSurvey } from "../survey.js";
import { csvOf, number } from "./csv.js";
import { packageOf } from "./data-package.js";
import { degreesOf, placeOf } from "./geometry.js";

/** Every file of a made survey's folder, by its name. */
export function surveyFiles(made: MadeSurvey): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  files.set("datapackage.json", packageOf(made));
  files.set("centreline.geojson", centreline(made.length_m));
  for (const campaign of made.campaigns) {
    for (const walk of campaign.walks) {
      files.set(`${walk.name}-${campaign.label}.csv`, readingsCsv(walk));
    }
    if (campaign.checks.length > 0) {
      files.set(`base-checks-${campaign.label}.csv`, checksCsv(campaign));
    }
  }
  files.set("soil-temperature.csv", temperatureCsv(made.campaigns));
  return files;
}

/** Writes the survey into a folder, which is made where it is not there. */
export function writeSurvey(made: MadeSurvey, folder: string): void {
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of surveyFiles(made)) writeFileSync(join(folder, name), text);
}

function centreline(length_m: number): string {
  const coordinates = [0, length_m / 2, length_m].map((x) =>
    degreesOf(placeOf(x)).map((degrees) => Number(degrees.toFixed(8))),
  );
  const geometry = { type: "LineString", coordinates };
  const feature = { type: "Feature", properties: { chainageStart_m: 0 }, geometry };
  return JSON.stringify({ type: "FeatureCollection", features: [feature] });
}

const isoTime = (time_s: number) => new Date(1000 * time_s).toISOString();

function readingsCsv({ channels, steps, recorded, values }: MadeWalk): string {
  const fields = channels.map(({ field }) => field);
  const rows = steps.time_s.map((time_s, i) => {
    const place = placeOf(recorded.chainage_m[i]!, recorded.offset_m[i]!);
    const readings = values.map((row, c) => number(row[i]!, digitsOf(channels[c]!)));
    const at = [number(place.easting_m, 2), number(place.northing_m, 2)];
    return [isoTime(time_s), ...at, steps.line[i]!, ...readings];
  });
  return csvOf(["time", "easting", "northing", "line", ...fields], rows);
}

const digitsOf = ({ unit }: { readonly unit: "ppm" | "mS/m" }) => (unit === "ppm" ? 1 : 3);

function checksCsv({ walks, checks }: MadeCampaign): string {
  const channels = walks.flatMap((walk) => walk.channels);
  const rows = checks.map(({ time_s, values }) => {
    const read = channels.map((one) => number(values[one.field] ?? Number.NaN, digitsOf(one)));
    return [isoTime(time_s), "B0", ...read];
  });
  return csvOf(["time", "spot", ...channels.map(({ field }) => field)], rows);
}

function temperatureCsv(campaigns: readonly MadeCampaign[]): string {
  const rows = campaigns.flatMap(({ soilTemperature }) =>
    soilTemperature.map(({ time_s, depth_m, temperature_degC }) => {
      return [isoTime(time_s), number(depth_m, 1), number(temperature_degC, 1)];
    }),
  );
  return csvOf(["time", "depth_m", "temperature_degC"], rows);
}
