import type { ChannelSpec } from "../earth/forward.js";
import type { MadeCampaign } from "../field/walked-campaign.js";
import type { MadeSurvey } from "../survey.js";
import { crossSectionOf, EPSG, UNSTATED } from "./geometry.js";

/** The descriptor of a made survey, on the invented bank of all examples. */
export function packageOf({ campaigns, slopes }: MadeSurvey): string {
  const resources = [
    { name: "centreline", path: "centreline.geojson", role: "centreline" },
    ...campaigns.flatMap(campaignResources),
    table("soil-temperature", "soil-temperature", [
      time,
      numeric("depth_m"),
      numeric("temperature_degC"),
    ]),
  ];
  const survey = {
    embankment: "Sedgeholm Bank",
    waterway: "River Wend",
    crs: EPSG,
    ...(slopes === null ? UNSTATED : crossSectionOf(slopes.shape)),
    waterside: "left",
    designWaterLevel_m: 5.6,
  };
  const name = "sedgeholm-menagerie";
  return JSON.stringify({ profile: "data-package", name, title: name, survey, resources }, null, 1);
}

interface Field {
  readonly name: string;
  readonly type: string;
}

const time: Field = { name: "time", type: "datetime" };
const numeric = (name: string): Field => ({ name, type: "number" });
const text = (name: string): Field => ({ name, type: "string" });

function table(name: string, role: string, fields: readonly Field[]) {
  const path = `${name}.csv`;
  const schema = { fields, missingValues: [""] };
  return { name, path, role, profile: "tabular-data-resource", schema };
}

function campaignResources({ label, walks, checks }: MadeCampaign) {
  const place = [numeric("easting"), numeric("northing"), text("line")];
  const readings = walks.map(({ name, channels, height_m }) => ({
    ...table(`${name}-${label}`, "readings", [time, ...place, ...channelFields(channels)]),
    campaign: label,
    instrument: { height_m, channels },
  }));
  if (checks.length === 0) return readings;
  const channels = walks.flatMap((walk) => walk.channels);
  const repeated = [time, text("spot"), ...channelFields(channels)];
  return [
    ...readings,
    { ...table(`base-checks-${label}`, "base-checks", repeated), campaign: label },
  ];
}

const channelFields = (channels: readonly ChannelSpec[]) =>
  channels.map(({ field }) => numeric(field));
