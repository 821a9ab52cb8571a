import { describe, expect, it } from "vitest";
import {
  descriptor,
  type Field,
  headerOf,
  type Resource,
  readText,
  rowsOf,
} from "./demo-folder.js";

const { survey, resources } = descriptor();
const tables = resources.filter((resource) => resource.schema);

/** Every breach of a field's type or constraint, as "row field value". */
function breaches({ path, schema }: Resource): string[] {
  return rowsOf(path).flatMap((row, at) =>
    schema!.fields
      .filter((field) => !keeps(field, row[field.name] ?? ""))
      .map((field) => `${at + 2} ${field.name} ${row[field.name]}`),
  );
}

function keeps({ type, constraints = {} }: Field, text: string): boolean {
  if (text === "") return constraints.required !== true;
  if (constraints.enum && !constraints.enum.includes(text)) return false;
  if (type === "datetime") return /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d)?\+01:00$/.test(text);
  if (type === "date") return /^\d{4}-\d\d-\d\d$/.test(text);
  if (type !== "number" && type !== "integer") return true;
  if (!/^-?\d+(\.\d+)?(e-\d+)?$/.test(text)) return false;
  const value = Number(text);
  if (type === "integer" && !Number.isInteger(value)) return false;
  return value >= (constraints.minimum ?? -Infinity) && value <= (constraints.maximum ?? Infinity);
}

describe("the demo's data package", () => {
  it("has one resource of every role that a survey can hold, and two walks a campaign", () => {
    const roles = new Set(resources.map((resource) => resource.role));
    expect([...roles].sort()).toEqual([
      "base-checks",
      "boreholes",
      "centreline",
      "field-notes",
      "incidents",
      "laboratory",
      "readings",
      "resistivity-electrodes",
      "resistivity-readings",
      "soil-temperature",
      "strata",
      "water-levels",
    ]);
    const walks = resources.filter((resource) => resource.role === "readings");
    expect(walks.map((walk) => walk.name)).toEqual([
      "readings-2031-10-hcp",
      "readings-2031-10-vcp",
      "readings-2032-03-hcp",
      "readings-2032-03-vcp",
    ]);
  });

  it("gives the cross-section as constants", () => {
    expect(survey).toMatchObject({ crestWidth_m: 4, crestElevation_m: 6.2, waterside: "left" });
    expect(survey).toMatchObject({ foundationElevation_m: 2.4, designWaterLevel_m: 5.6 });
  });

  it.each(tables.map((table) => [table.name, table] as const))(
    "%s holds the fields of its schema, and every row keeps to it",
    (_name, table) => {
      expect(headerOf(table.path)).toEqual(table.schema!.fields.map((field) => field.name));
      expect(breaches(table)).toEqual([]);
    },
  );

  it("has about 2000 readings a walk, each of ten channels that the instrument names", () => {
    for (const walk of resources.filter((resource) => resource.role === "readings")) {
      const rows = rowsOf(walk.path);
      expect(rows.length).toBeGreaterThan(1900);
      expect(rows.length).toBeLessThan(2100);
      const fields = walk.instrument!.channels.map((channel) => channel.field);
      expect(fields).toHaveLength(10);
      expect(headerOf(walk.path).slice(4)).toEqual(fields);
    }
  });

  it("has times that run forward within each walk and each set of checks", () => {
    for (const { path, role } of resources) {
      if (role !== "readings" && role !== "base-checks") continue;
      const times = rowsOf(path).map((row) => Date.parse(row.time!));
      expect(times.every((time, k) => k === 0 || time > times[k - 1]!)).toBe(true);
    }
  });

  it("has one centreline, in the open sea", () => {
    const { features } = JSON.parse(readText("sedgeholm/centreline.geojson"));
    expect(features).toHaveLength(1);
    const { type, coordinates } = features[0].geometry;
    expect(type).toBe("LineString");
    for (const [longitude, latitude] of coordinates as [number, number][]) {
      expect(Math.abs(longitude - 2.9)).toBeLessThan(0.05);
      expect(Math.abs(latitude - 54.4)).toBeLessThan(0.05);
    }
  });

  it("has six boreholes with unbroken strata, laboratory values, and three incidents", () => {
    const holes = rowsOf("boreholes.csv");
    expect(holes).toHaveLength(6);
    const strata = rowsOf("strata.csv");
    for (const hole of holes) {
      const beds = strata.filter((bed) => bed.borehole === hole.borehole);
      const tops = [...beds.map((bed) => Number(bed.top_m)), Number(hole.depth_m)];
      expect(beds.map((bed) => Number(bed.base_m))).toEqual(tops.slice(1));
      expect(tops[0]).toBe(0);
    }
    const sampled = new Set(rowsOf("laboratory.csv").map((row) => row.borehole));
    expect(sampled.size).toBe(6);
    expect(rowsOf("incidents.csv").map((row) => row.kind)).toEqual([
      "sand boil",
      "crack",
      "wet patch",
    ]);
  });
});
