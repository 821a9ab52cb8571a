export const PACKAGE_FILE = "datapackage.json";

/**
 * JSON Schema of a survey's datapackage.json: the parts of Data Package v1 and Table Schema v1 that
 * are read here, and the contract's own properties. Properties it does not name are allowed, as the
 * specifications allow them. A `description` is the rule that a fault quotes.
 */
const text = { type: "string", minLength: 1 } as const;
const aboveZero = { type: "number", exclusiveMinimum: 0 } as const;
const notNegative = { type: "number", minimum: 0 } as const;

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

const channel = {
  type: "object",
  required: ["field", "kind", "unit", "frequency_Hz", "separation_m", "orientation"],
  properties: {
    field: text,
    kind: { enum: ["quadrature", "inphase", "conductivity"] },
    unit: { enum: ["ppm", "mS/m"] },
    frequency_Hz: aboveZero,
    separation_m: aboveZero,
    orientation: { enum: ["HCP", "VCP", "PRP"] },
  },
} as const;

const instrument = {
  type: "object",
  required: ["height_m", "channels"],
  properties: {
    height_m: notNegative,
    channels: { type: "array", minItems: 1, items: channel },
  },
} as const;

const constraints = {
  type: "object",
  properties: {
    required: { type: "boolean" },
    unique: { type: "boolean" },
    minimum: { type: ["number", "string"] },
    maximum: { type: ["number", "string"] },
    enum: { type: "array", minItems: 1 },
  },
} as const;

const tableSchema = {
  type: "object",
  required: ["fields"],
  properties: {
    missingValues: { type: "array", items: { type: "string" } },
    fields: {
      type: "array",
      minItems: 1,
      items: {
        type: "object",
        required: ["name"],
        properties: {
          name: text,
          type: { type: "string" },
          format: { type: "string" },
          decimalChar: text,
          groupChar: text,
          trueValues: { type: "array", items: { type: "string" } },
          falseValues: { type: "array", items: { type: "string" } },
          missingValues: { type: "array", items: { type: "string" } },
          constraints,
        },
      },
    },
  },
} as const;

const lines = {
  type: "array",
  minItems: 1,
  items: {
    type: "object",
    required: ["line", "runs", "chainage_m", "offset_m"],
    properties: {
      line: text,
      runs: { enum: ["along", "across"] },
      chainage_m: { type: "number" },
      offset_m: { type: "number" },
    },
  },
} as const;

// No scheme, no drive, no leading slash, no step upward: a path stays in the survey's folder.
const path = {
  type: "string",
  pattern: "^(?![/\\\\~])(?!.*(^|[/\\\\])\\.\\.([/\\\\]|$))(?!.*[:\\u0000]).+$",
  description: "a relative path within the survey folder",
} as const;

const resource = {
  type: "object",
  required: ["name", "path", "role"],
  properties: {
    name: text,
    path,
    role: { enum: ROLES },
    campaign: text,
    encoding: text,
    instrument,
    lines,
    schema: tableSchema,
    dialect: {
      type: "object",
      properties: {
        delimiter: { type: "string", minLength: 1, maxLength: 1 },
        header: { type: "boolean" },
        quoteChar: { type: "string", minLength: 1, maxLength: 1 },
      },
    },
  },
  allOf: [
    {
      if: { properties: { role: { const: "readings" } }, required: ["role"] },
      // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
      then: { required: ["instrument"], properties: { instrument } },
    },
    {
      if: { properties: { role: { const: "resistivity-electrodes" } }, required: ["role"] },
      // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
      then: { required: ["lines"], properties: { lines } },
    },
  ],
} as const;

export const PACKAGE_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  type: "object",
  required: ["resources"],
  properties: {
    name: text,
    title: text,
    survey: {
      type: "object",
      properties: {
        embankment: text,
        waterway: text,
        crs: {
          type: ["integer", "string"],
          pattern: "^(EPSG:)?[0-9]{4,6}$",
          description: "an EPSG code, such as 32631",
        },
        crsDefinition: text,
        crestWidth_m: aboveZero,
        crestElevation_m: { type: "number" },
        foundationElevation_m: { type: "number" },
        watersideSlope: notNegative,
        landsideSlope: notNegative,
        waterside: { enum: ["left", "right"] },
        designWaterLevel_m: { type: "number" },
      },
    },
    resources: { type: "array", minItems: 1, items: resource },
  },
} as const;
