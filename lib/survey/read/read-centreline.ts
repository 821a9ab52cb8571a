import { quoted } from "../../step/step-error.js";
import { chooseProjection } from "../bank/choose-projection.js";
import { distance_m, groundDistance_m, type LonLat, type Projection } from "../bank/projection.js";
import type { FaultLog } from "../check/faults.js";
import type { Centreline } from "../survey.js";
import type { SurveyProperties } from "./descriptor.js";

export interface ReadCentreline {
  readonly centreline: Centreline;
  readonly projection: Projection;
  /** Middle vertex. */
  readonly middle: LonLat;
}

/** Reads the GeoJSON (RFC 7946) of a centreline: one LineString of longitudes and latitudes. */
export function readCentreline(
  json: string,
  { file, survey }: { readonly file: string; readonly survey: SurveyProperties },
  log: FaultLog,
): ReadCentreline | null {
  const line = findLine(json, file, log);
  if (line === null) return null;
  const vertices = readVertices(line.coordinates, file, log);
  if (vertices === null) return null;
  const middle = vertices[Math.floor(vertices.length / 2)]!;
  const projection = chooseProjection(survey, middle, log);
  if (projection === null) return null;
  const centreline = measured(vertices, projection, line.chainageStart_m);
  if (centreline !== null) return { centreline, projection, middle };
  log.add({ code: "centreline-length", file, rule: "longer than 1 m", value: "a point" });
  return null;
}

interface Line {
  readonly coordinates: readonly unknown[];
  readonly chainageStart_m: number;
}

function findLine(json: string, file: string, log: FaultLog): Line | null {
  let parsed: unknown;
  try {
    parsed = JSON.parse(json);
  } catch (error) {
    const value = error instanceof Error ? error.message : String(error);
    log.add({ code: "invalid-json", file, rule: "valid JSON", value });
    return null;
  }
  const features = featuresOf(parsed);
  const lines = features.filter(({ geometry }) => geometry?.type === "LineString");
  const only = lines.length === 1 ? lines[0] : undefined;
  const coordinates = only?.geometry?.coordinates;
  if (!Array.isArray(coordinates)) {
    const types = features.map(({ geometry }) => geometry?.type ?? "no geometry");
    const value = types.length === 0 ? "none" : quoted(types.join(", "));
    log.add({ code: "centreline-form", file, rule: "GeoJSON with one LineString", value });
    return null;
  }
  const start: unknown = only?.properties?.chainageStart_m ?? 0;
  if (typeof start === "number") {
    return { coordinates, chainageStart_m: start };
  }
  const field = "chainageStart_m";
  log.add({ code: "not-a-number", file, field, rule: "a number", value: quoted(start) });
  return null;
}

interface Feature {
  readonly type?: unknown;
  readonly geometry?: { readonly type?: unknown; readonly coordinates?: unknown } | null;
  readonly properties?: Readonly<Record<string, unknown>> | null;
}

function featuresOf(parsed: unknown): readonly Feature[] {
  if (typeof parsed !== "object" || parsed === null) return [];
  const { type, features } = parsed as { type?: unknown; features?: unknown };
  if (type === "Feature") return [parsed as Feature];
  if (type === "FeatureCollection" && Array.isArray(features)) {
    return features.filter((feature) => typeof feature === "object" && feature !== null);
  }
  return typeof type === "string" ? [{ geometry: parsed as Feature["geometry"] & object }] : [];
}

function readVertices(
  coordinates: readonly unknown[],
  file: string,
  log: FaultLog,
): readonly LonLat[] | null {
  const vertices = coordinates.map((pair) => asLonLat(pair));
  const bad = vertices.findIndex((vertex) => vertex === null);
  if (bad >= 0) {
    const rule = "a longitude from -180 to 180 and a latitude from -90 to 90, degrees";
    const value = quoted(JSON.stringify(coordinates[bad]) ?? "nothing").replace(/^"|"$/g, "");
    const field = `coordinates[${bad}]`;
    const hint = "RFC 7946 has longitude first, WGS 84";
    log.add({ code: "centreline-vertex", file, field, rule, value, hint });
    return null;
  }
  if (vertices.length >= 2) return vertices as LonLat[];
  const value = `${vertices.length} vertices`;
  log.add({ code: "centreline-length", file, rule: "at least two vertices long", value });
  return null;
}

function asLonLat(pair: unknown): LonLat | null {
  if (!Array.isArray(pair)) return null;
  const [longitude, latitude] = pair as unknown[];
  if (typeof longitude !== "number" || typeof latitude !== "number") return null;
  const inside = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
  return inside ? { longitude, latitude } : null;
}

/** Projects and measures the vertices; repeated ones are dropped. Null where no length is left. */
function measured(
  vertices: readonly LonLat[],
  projection: Projection,
  start_m: number,
): Centreline | null {
  const all = vertices.map((vertex) => projection.toGrid(vertex));
  const grid = all.filter((vertex, i) => i === 0 || distance_m(all[i - 1]!, vertex) > 1e-3);
  const chainage_m = Float64Array.from(grid, () => start_m);
  for (let i = 1; i < grid.length; i++) {
    chainage_m[i] = chainage_m[i - 1]! + groundDistance_m(projection, grid[i - 1]!, grid[i]!);
  }
  if (!(chainage_m[chainage_m.length - 1]! - start_m > 1)) return null;
  return {
    easting_m: Float64Array.from(grid, ({ easting_m }) => easting_m),
    northing_m: Float64Array.from(grid, ({ northing_m }) => northing_m),
    chainage_m,
    epsg: projection.epsg,
    projection: projection.definition,
  };
}
