import { CAMPAIGNS, type CampaignFacts, FACTS } from "./facts.js";
import { COILS, channelsOf } from "./instrument.js";
import { ELECTRODE_LINES } from "./resistivity-lines.js";
import { checksSchema, readingsSchema, SCHEMAS, type TableSchema } from "./table-schema.js";

/** The descriptor of the survey: Data Package v1 with the survey's own properties. */

interface Resource {
  readonly name: string;
  readonly path: string;
  readonly role: string;
  readonly title: string;
  readonly more?: Readonly<Record<string, unknown>>;
  readonly schema?: TableSchema;
}

export function dataPackage(): string {
  const descriptor = {
    profile: "data-package",
    name: "sedgeholm",
    title: `${FACTS.embankment} on the ${FACTS.waterway}`,
    description: "An invented survey of an invented embankment, made by a seeded generator.",
    version: "1.0.0",
    created: "2032-04-02T09:00:00Z",
    contributors: [
      { title: "R. Alder (invented)", role: "author" },
      { title: "The demo's field crew (invented)", role: "contributor" },
    ],
    licenses: [
      {
        name: "CC0-1.0",
        path: "https://creativecommons.org/publicdomain/zero/1.0/",
        title: "CC0 1.0 Universal",
      },
    ],
    survey: surveyProperties(),
    resources: resources().map(resourceJson),
  };
  return `${JSON.stringify(descriptor, null, 2)}\n`;
}

function surveyProperties(): Readonly<Record<string, unknown>> {
  return {
    embankment: FACTS.embankment,
    waterway: FACTS.waterway,
    crs: FACTS.epsg,
    crestWidth_m: FACTS.crestWidth_m,
    crestElevation_m: FACTS.crestElevation_m,
    foundationElevation_m: FACTS.foundationElevation_m,
    watersideSlope: FACTS.watersideSlope,
    landsideSlope: FACTS.landsideSlope,
    waterside: "left",
    designWaterLevel_m: FACTS.designWaterLevel_m,
  };
}

function resources(): readonly Resource[] {
  return [
    {
      name: "centreline",
      path: "centreline.geojson",
      role: "centreline",
      title: "Centreline of the crest",
    },
    ...CAMPAIGNS.flatMap(campaignResources),
    table("field-notes", "Field book", SCHEMAS.notes),
    table("soil-temperature", "Soil temperature in the bank", SCHEMAS.temperature),
    table("water-levels", "River stage and piezometers", SCHEMAS.waters),
    ...lineResources(),
    table("boreholes", "Boreholes", SCHEMAS.boreholes),
    table("strata", "Strata of the boreholes", SCHEMAS.strata),
    table("laboratory", "Laboratory values", SCHEMAS.laboratory),
    table("incidents", "Recorded incidents", SCHEMAS.incidents),
  ];
}

function table(name: string, title: string, schema: TableSchema): Resource {
  return { name, path: `${name}.csv`, role: name, title, schema };
}

function campaignResources({ label, title }: CampaignFacts): readonly Resource[] {
  const passes = (["HCP", "VCP"] as const).map((orientation): Resource => {
    const name = `readings-${label}-${orientation.toLowerCase()}`;
    const instrument = { height_m: COILS.height_m, channels: channelsOf(orientation) };
    return {
      name,
      path: `${name}.csv`,
      role: "readings",
      title: `${title}: walk along the crest with coils ${orientation}`,
      more: { campaign: label, instrument },
      schema: readingsSchema(orientation),
    };
  });
  const checks: Resource = {
    name: `base-checks-${label}`,
    path: `base-checks-${label}.csv`,
    role: "base-checks",
    title: `${title}: repeats at the base spot`,
    more: { campaign: label },
    schema: checksSchema(),
  };
  return [...passes, checks];
}

function lineResources(): readonly Resource[] {
  const lines = ELECTRODE_LINES.map(({ line, runs, chainage_m, offset_m }) => {
    return { line, runs, chainage_m, offset_m };
  });
  const electrodes = table("resistivity-electrodes", "Electrodes", SCHEMAS.electrodes);
  const readings = table("resistivity-readings", "Resistivity readings", SCHEMAS.resistivity);
  return [{ ...electrodes, more: { lines } }, readings];
}

function resourceJson(resource: Resource): Readonly<Record<string, unknown>> {
  const { name, path, role, title, more = {}, schema } = resource;
  const form = schema
    ? { profile: "tabular-data-resource", format: "csv", mediatype: "text/csv", encoding: "utf-8" }
    : { format: "geojson", mediatype: "application/geo+json", encoding: "utf-8" };
  return { name, path, role, title, ...form, ...more, ...(schema ? { schema } : {}) };
}
