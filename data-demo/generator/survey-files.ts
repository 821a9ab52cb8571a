import { CHECK_HEADER, checkRows } from "./base-checks.js";
import {
  BOREHOLE_HEADER,
  boreholeRows,
  INCIDENT_HEADER,
  INCIDENTS,
  LABORATORY_HEADER,
  laboratoryRows,
  STRATA_HEADER,
  strataRows,
} from "./boreholes.js";
import { dataPackage } from "./data-package.js";
import { CAMPAIGNS, FACTS } from "./facts.js";
import { NOTE_HEADER, noteRows } from "./field-notes.js";
import { csv } from "./formats.js";
import { makeGround } from "./ground.js";
import { channelsOf } from "./instrument.js";
import { centrelineVertices } from "./positions.js";
import { READING_HEADER, readingRows } from "./readings.js";
import {
  ELECTRODE_HEADER,
  electrodeRows,
  RESISTIVITY_HEADER,
  resistivityRows,
} from "./resistivity.js";
import { truthJson, type World } from "./truth.js";
import { fieldDay } from "./walk.js";
import { TEMPERATURE_HEADER, temperatureRows, WATER_HEADER, waterRows } from "./waters.js";

/** Every file of the demo, by its path below the output folder. */
export function demoFiles(): ReadonlyMap<string, string> {
  const days = new Map(CAMPAIGNS.map((campaign) => [campaign.label, fieldDay(campaign)]));
  const world: World = { ground: makeGround(), days };
  const files = new Map<string, string>();
  const put = (name: string, text: string) => files.set(`sedgeholm/${name}`, text);
  put("datapackage.json", dataPackage());
  put("centreline.geojson", centrelineJson());
  for (const campaign of CAMPAIGNS) {
    const day = days.get(campaign.label)!;
    for (const orientation of ["HCP", "VCP"] as const) {
      const rows = readingRows({ campaign, orientation, day, ground: world.ground });
      const header = [...READING_HEADER, ...channelsOf(orientation).map((one) => one.field)];
      put(`readings-${campaign.label}-${orientation.toLowerCase()}.csv`, csv(header, rows));
    }
    put(`base-checks-${campaign.label}.csv`, csv(CHECK_HEADER, checkRows(campaign, day)));
  }
  put("field-notes.csv", csv(NOTE_HEADER, noteRows()));
  put("soil-temperature.csv", csv(TEMPERATURE_HEADER, temperatureRows()));
  put("water-levels.csv", csv(WATER_HEADER, waterRows()));
  put("resistivity-electrodes.csv", csv(ELECTRODE_HEADER, electrodeRows()));
  put("resistivity-readings.csv", csv(RESISTIVITY_HEADER, resistivityRows(world.ground)));
  put("boreholes.csv", csv(BOREHOLE_HEADER, boreholeRows()));
  put("strata.csv", csv(STRATA_HEADER, strataRows()));
  put("laboratory.csv", csv(LABORATORY_HEADER, laboratoryRows()));
  put("incidents.csv", csv(INCIDENT_HEADER, INCIDENTS));
  files.set("sedgeholm-truth/truth.json", truthJson(world));
  return files;
}

function centrelineJson(): string {
  const coordinates = centrelineVertices().map(({ longitude, latitude }) => [
    Number(longitude.toFixed(7)),
    Number(latitude.toFixed(7)),
  ]);
  const feature = {
    type: "Feature",
    properties: { name: FACTS.embankment, chainageStart_m: 0 },
    geometry: { type: "LineString", coordinates },
  };
  return `${JSON.stringify({ type: "FeatureCollection", features: [feature] }, null, 1)}\n`;
}
