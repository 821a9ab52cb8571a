import { firstOf, itemAt, neighbours } from "../../../numerics/arrays.js";
import { quoted } from "../../../step/step-error.js";
import {
  distance_m,
  groundDistance_m,
  type LonLat,
  type MapProjection,
} from "../../bank/projection.js";
import type { Centreline } from "../../centreline.js";
import type { FaultLog } from "../../check/faults.js";
import type { SurveyProperties } from "../package/descriptor.js";
import { jsonOf } from "../package/folder.js";
import { checkCentreline } from "./check-centreline.js";
import { chooseProjection } from "./choose-projection.js";

export interface ReadCentreline {
  readonly centreline: Centreline;
  readonly projection: MapProjection;
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
  if (vertices === null || !checkCentreline(vertices, file, log)) return null;
  const middle = itemAt(vertices, Math.floor(vertices.length / 2));
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

/** No river is stationed further; decimetres keep their place in what is written. */
const FARTHEST_START_M = 1e7;

function findLine(json: string, file: string, log: FaultLog): Line | null {
  const parsed = jsonOf(json, file, log);
  if (parsed === undefined) return null;
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
  const field = "chainageStart_m";
  if (typeof start === "number" && Math.abs(start) > FARTHEST_START_M) {
    const rule = `within ${FARTHEST_START_M.toLocaleString("en")} m of 0`;
    log.add({ code: "chainage-start", file, field, rule, value: String(start) });
    return null;
  }
  if (typeof start === "number") return { coordinates, chainageStart_m: start };
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
  const vertices = coordinates.map(asLonLat);
  const bad = vertices.indexOf(null);
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
  projection: MapProjection,
  start_m: number,
): Centreline | null {
  const all = vertices.map((vertex) => projection.toGrid(vertex));
  const moves = neighbours(all).filter(([from, to]) => distance_m(from, to) > 1e-3);
  const grid = [firstOf(all), ...moves.map(([, to]) => to)];
  const chainage_m = [start_m];
  let end_m = start_m;
  for (const [from, to] of neighbours(grid)) {
    end_m += groundDistance_m(projection, from, to);
    chainage_m.push(end_m);
  }
  if (!(end_m - start_m > 1)) return null;
  return {
    easting_m: Float64Array.from(grid, ({ easting_m }) => easting_m),
    northing_m: Float64Array.from(grid, ({ northing_m }) => northing_m),
    chainage_m: Float64Array.from(chainage_m),
    epsg: projection.epsg,
    projection: projection.definition,
  };
}
