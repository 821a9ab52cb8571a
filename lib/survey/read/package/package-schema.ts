export const PACKAGE_FILE = "datapackage.json";

export const ROLES = [
  "centreline",
  "readings",
  "base-checks",
  "field-notes",
  "soil-temperature",
  "water-levels",
  "resistivity-electrodes",
  "resistivity-readings",
  "boreholes",
  "strata",
  "laboratory",
  "incidents",
  "cross-section",
] as const;

const object = (required: readonly string[], properties: Readonly<Record<string, object>>) => ({
  type: "object",
  required,
  properties,
});
const list = (items: object) => ({ type: "array", minItems: 1, items });
const oneOf = (...words: readonly string[]) => ({ enum: words });

const text = { type: "string", minLength: 1, pattern: "^[^\\u0000-\\u001f\\u007f-\\u009f]*$" };
const letter = { type: "string", minLength: 1, maxLength: 1 };
const texts = { type: "array", items: { type: "string" } };
const number = { type: "number" };
const aboveZero = { type: "number", exclusiveMinimum: 0 };
const notNegative = { type: "number", minimum: 0 };
const flag = { type: "boolean" };
const bound = { type: ["number", "string"] };

const channel = object(["field", "kind", "unit", "frequency_Hz", "separation_m", "orientation"], {
  field: text,
  kind: oneOf("quadrature", "inphase", "conductivity"),
  unit: oneOf("ppm", "mS/m"),
  frequency_Hz: aboveZero,
  separation_m: aboveZero,
  orientation: oneOf("HCP", "VCP", "PRP"),
});

const instrument = object(["height_m", "channels"], {
  height_m: notNegative,
  channels: list(channel),
});

const constraints = object([], {
  required: flag,
  unique: flag,
  minimum: bound,
  maximum: bound,
  enum: { type: "array", minItems: 1 },
});

const field = object(["name"], {
  name: text,
  type: { type: "string" },
  format: { type: "string" },
  decimalChar: text,
  groupChar: text,
  bareNumber: flag,
  timezone: text,
  trueValues: texts,
  falseValues: texts,
  missingValues: texts,
  constraints,
});

const tableSchema = object(["fields"], { missingValues: texts, fields: list(field) });

const lines = list(
  object(["line", "runs", "chainage_m", "offset_m"], {
    line: text,
    runs: oneOf("along", "across"),
    chainage_m: number,
    offset_m: number,
  }),
);

// No scheme, no drive, no leading slash, no step upward: a path stays in the survey's folder.
const path = {
  type: "string",
  pattern: "^(?![/\\\\~])(?!.*(^|[/\\\\])\\.\\.([/\\\\]|$))(?!.*[:\\u0000]).+$",
  description: "a relative path within the survey folder",
};

/** A property that a role must have. */
const neededBy = (role: string, properties: Readonly<Record<string, object>>) => ({
  if: { properties: { role: { const: role } }, required: ["role"] },
  // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
  then: { required: Object.keys(properties), properties },
});

const resource = {
  ...object(["name", "path", "role"], {
    name: text,
    path,
    role: oneOf(...ROLES),
    campaign: text,
    encoding: text,
    instrument,
    lines,
    schema: tableSchema,
    dialect: object([], {
      delimiter: letter,
      header: flag,
      quoteChar: letter,
      escapeChar: letter,
      commentChar: letter,
      skipInitialSpace: flag,
    }),
  }),
  allOf: [neededBy("readings", { instrument }), neededBy("resistivity-electrodes", { lines })],
};

const survey = object([], {
  embankment: text,
  waterway: text,
  crs: {
    type: ["integer", "string"],
    pattern: "^(EPSG:)?[0-9]{4,6}$",
    description: "an EPSG code, such as 32631",
  },
  crsDefinition: text,
  crestWidth_m: aboveZero,
  crestElevation_m: number,
  foundationElevation_m: number,
  watersideSlope: notNegative,
  landsideSlope: notNegative,
  waterside: oneOf("left", "right"),
  designWaterLevel_m: number,
});

/**
 * JSON Schema of a survey's datapackage.json: the parts of Data Package v1 and Table Schema v1 that
 * are read here, and the contract's own properties. Properties it does not name are allowed, as the
 * specifications allow them. A `description` is the rule that a fault quotes.
 */
export const PACKAGE_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  ...object(["resources"], {
    name: text,
    title: text,
    version: text,
    created: text,
    contributors: list(object(["title"], { title: text, role: text, organization: text })),
    survey,
    resources: list(resource),
  }),
};
