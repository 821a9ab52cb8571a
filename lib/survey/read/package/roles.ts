import type { Role } from "./descriptor.js";

/** What a role's CSV holds in one column. */
export interface RoleField {
  readonly name: string;
  readonly type: "number" | "integer" | "text" | "datetime" | "date";
  /** "cell": column and every cell must be there; "column": cells may be blank; else optional. */
  readonly needed?: "cell" | "column";
  readonly minimum?: number;
  readonly maximum?: number;
  /** The value must be above this. */
  readonly above?: number;
  readonly oneOf?: readonly string[];
}

const cell = { needed: "cell" } as const;
const column = { needed: "column" } as const;

const fieldOf =
  (type: RoleField["type"]) =>
  (name: string, more: Partial<RoleField> = {}): RoleField => ({ name, type, ...more });
const number = fieldOf("number");
const integer = fieldOf("integer");
const text = fieldOf("text");
const time = (more: Partial<RoleField> = {}) => fieldOf("datetime")("time", more);

/** Ranges of longitude and latitude are checked with the position, where a swap shows. */
const position = ["longitude", "latitude", "easting", "northing"].map((name) => number(name));

/** The contract's columns of each tabular role; channels come on top of these. */
export const ROLE_FIELDS: Readonly<Record<Exclude<Role, "centreline">, readonly RoleField[]>> = {
  readings: [time(column), ...position, text("line"), number("height_m", { minimum: 0 })],
  "base-checks": [time(cell), text("spot", cell)],
  "field-notes": [
    text("kind", { ...cell, oneOf: ["mark", "metal", "structure", "remark"] }),
    text("object", column),
    number("from_m"),
    number("to_m"),
    ...position,
    time(),
    number("offset_m"),
    text("photo"),
    text("text"),
    text("campaign"),
  ],
  "soil-temperature": [
    time(cell),
    number("depth_m", { ...cell, minimum: 0 }),
    number("temperature_degC", { ...column, minimum: -60, maximum: 60 }),
  ],
  "water-levels": [
    time(cell),
    text("point", cell),
    number("level_m", column),
    number("chainage_m"),
  ],
  "resistivity-electrodes": [
    text("line", cell),
    integer("electrode", { ...cell, minimum: 1 }),
    number("x_m", cell),
    number("elevation_m", cell),
    ...position,
  ],
  "resistivity-readings": [
    text("line", cell),
    ...["a", "b", "m", "n"].map((name) => integer(name, { ...cell, minimum: 0 })),
    number("current_mA", { ...column, above: 0 }),
    number("voltage_mV", column),
    number("deviation_pct", { ...column, minimum: 0 }),
    integer("repeat"),
    text("campaign"),
  ],
  boreholes: [
    text("borehole", cell),
    number("chainage_m", cell),
    number("offset_m", cell),
    number("elevation_m", cell),
    number("depth_m", { ...cell, above: 0 }),
  ],
  strata: [
    text("borehole", cell),
    number("top_m", { ...cell, minimum: 0 }),
    number("base_m", { ...cell, minimum: 0 }),
    text("soil", cell),
    text("description"),
  ],
  laboratory: [
    text("borehole", cell),
    number("depth_m", { ...cell, minimum: 0 }),
    number("fines_pct", { minimum: 0, maximum: 100 }),
    number("water_content_pct", { minimum: 0 }),
    number("hydraulic_conductivity_m_per_s", { above: 0 }),
    number("resistivity_ohm_m", { above: 0 }),
  ],
  incidents: [
    fieldOf("date")("date", cell),
    number("chainage_m", cell),
    text("kind", cell),
    text("text"),
  ],
  "cross-section": [
    number("chainage_m", cell),
    number("crestWidth_m", { above: 0 }),
    number("crestElevation_m"),
    number("foundationElevation_m"),
    number("watersideSlope", { minimum: 0 }),
    number("landsideSlope", { minimum: 0 }),
  ],
};
