import { BOREHOLE_HEADER, INCIDENT_HEADER, LABORATORY_HEADER, STRATA_HEADER } from "./boreholes.js";
import { NOTE_HEADER } from "./field-notes.js";
import { CHECK_READINGS, type Channel, channelsOf } from "./instrument.js";
import { READING_HEADER } from "./readings.js";
import { ELECTRODE_HEADER, RESISTIVITY_HEADER } from "./resistivity.js";
import { TEMPERATURE_HEADER, WATER_HEADER } from "./waters.js";

/** Table Schema (v1) of every CSV of the survey. */

export interface Field {
  readonly name: string;
  readonly type: "string" | "number" | "integer" | "datetime" | "date";
  readonly format?: string;
  readonly title?: string;
  readonly description?: string;
  readonly constraints?: Readonly<Record<string, unknown>>;
}

export interface TableSchema {
  readonly fields: readonly Field[];
  readonly missingValues: readonly string[];
}

const required = { required: true };
const depth = { required: true, minimum: 0, maximum: 60 };
const along = { required: true, minimum: 0, maximum: 2400 };

/** Fields that mean the same in every table. */
const COMMON: Readonly<Record<string, Omit<Field, "name">>> = {
  time: { type: "datetime", format: "any", title: "ISO 8601 with offset", constraints: required },
  date: { type: "date", constraints: required },
  longitude: number("degrees east, WGS 84; blank without a satellite position", {
    minimum: -180,
    maximum: 180,
  }),
  latitude: number("degrees north, WGS 84; blank without a satellite position", {
    minimum: -90,
    maximum: 90,
  }),
  line: { type: "string", title: "survey line", constraints: required },
  spot: { type: "string", title: "fixed spot", constraints: required },
  object: { type: "string", title: "what was seen" },
  text: { type: "string" },
  campaign: { type: "string", title: "blank: holds for every campaign" },
  from_m: number("chainage", along),
  to_m: number("chainage, the same for a point", along),
  chainage_m: number("chainage", along),
  offset_m: number("offset from the centreline, positive to the left", {
    minimum: -60,
    maximum: 60,
  }),
  depth_m: number("depth below the surface", depth),
  top_m: number("depth of the top", depth),
  base_m: number("depth of the base", depth),
  elevation_m: number("metres above datum", required),
  borehole: { type: "string", constraints: required },
  soil: { type: "string", title: "ISO 14688-1 letters", constraints: required },
  description: { type: "string" },
  point: { type: "string", title: "river, or a piezometer's name", constraints: required },
  level_m: number("metres above datum", required),
  temperature_degC: number("soil temperature", { required: true, minimum: -20, maximum: 45 }),
  fines_pct: number("share finer than 0.063 mm by mass", { minimum: 0, maximum: 100 }),
  water_content_pct: number("water over dry mass", { minimum: 0, maximum: 1000 }),
  hydraulic_conductivity_m_per_s: number("permeameter", { minimum: 0 }),
  resistivity_ohm_m: number("laboratory cell at 25 °C", { minimum: 0 }),
  current_mA: number("current of the pulse", { required: true, minimum: 0 }),
  voltage_mV: number("stacked voltage", required),
  deviation_pct: number("standard deviation of the stack", { required: true, minimum: 0 }),
  x_m: number("horizontal distance along the line", required),
  electrode: { type: "integer", constraints: { required: true, minimum: 1 } },
  repeat: { type: "integer", title: "1, 2 … for repeats; blank for the reading itself" },
};

function number(
  title: string,
  constraints: Readonly<Record<string, unknown>>,
): Omit<Field, "name"> {
  return { type: "number", title, constraints };
}

function fieldOf(name: string, over: Partial<Field> = {}): Field {
  const common = COMMON[name];
  if (!common) throw new Error(`no common field ${name}`);
  return { name, ...common, ...over };
}

function schema(fields: readonly Field[]): TableSchema {
  return { fields, missingValues: [""] };
}

function channelField(channel: Channel, constraints: Readonly<Record<string, unknown>>): Field {
  const part = channel.kind === "inphase" ? "in-phase" : "quadrature";
  const title = `${part}, ${channel.frequency_Hz} Hz, ${channel.orientation}, ppm`;
  return { name: channel.field, type: "number", title, constraints };
}

export function readingsSchema(orientation: "HCP" | "VCP"): TableSchema {
  const channels = channelsOf(orientation).map((channel) => channelField(channel, required));
  return schema([...READING_HEADER.map((name) => fieldOf(name)), ...channels]);
}

export function checksSchema(): TableSchema {
  const both = [...channelsOf("HCP"), ...channelsOf("VCP")];
  const description =
    `A check is ${CHECK_READINGS} readings with coils HCP, then ${CHECK_READINGS} with coils VCP; ` +
    "the channels of the orientation not in use are blank.";
  return schema([
    fieldOf("time"),
    fieldOf("spot", { description }),
    ...both.map((channel) => channelField(channel, { required: false })),
  ]);
}

const noteKind: Field = {
  name: "kind",
  type: "string",
  constraints: { required: true, enum: ["mark", "metal", "structure", "remark"] },
};

const measuredIn: Partial<Field> = { title: "campaign of the reading", constraints: required };

export const SCHEMAS = Object.freeze({
  notes: schema(NOTE_HEADER.map((name) => (name === "kind" ? noteKind : fieldOf(name)))),
  temperature: schema(TEMPERATURE_HEADER.map((name) => fieldOf(name))),
  waters: schema(
    WATER_HEADER.map((name) =>
      name === "chainage_m"
        ? fieldOf(name, { title: "chainage of a piezometer", constraints: { minimum: 0 } })
        : fieldOf(name),
    ),
  ),
  boreholes: schema(BOREHOLE_HEADER.map((name) => fieldOf(name))),
  strata: schema(STRATA_HEADER.map((name) => fieldOf(name))),
  laboratory: schema(LABORATORY_HEADER.map((name) => fieldOf(name))),
  incidents: schema(
    INCIDENT_HEADER.map((name) =>
      name === "kind" ? { name, type: "string", constraints: required } : fieldOf(name),
    ),
  ),
  electrodes: schema(ELECTRODE_HEADER.map((name) => fieldOf(name))),
  resistivity: schema(
    RESISTIVITY_HEADER.map((name): Field => {
      if (!/^[abmn]$/.test(name)) return fieldOf(name, name === "campaign" ? measuredIn : {});
      const constraints = { required: true, minimum: 0 };
      return { name, type: "integer", title: "electrode number, 0 is remote", constraints };
    }),
  ),
});
