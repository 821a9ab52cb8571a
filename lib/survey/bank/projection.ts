import proj4 from "proj4";
import type { Centreline } from "../centreline.js";

/** Geographic position on WGS 84, degrees. */
export interface LonLat {
  readonly longitude: number;
  readonly latitude: number;
}

export interface Grid {
  readonly easting_m: number;
  readonly northing_m: number;
}

/** A projected coordinate system that distances may be measured in. */
export interface MapProjection {
  readonly epsg: number;
  /** PROJ string. */
  readonly definition: string;
  readonly toGrid: (at: LonLat) => Grid;
  readonly toLonLat: (at: Grid) => LonLat;
}

/**
 * PROJ string of the UTM zones: WGS 84 (EPSG 326zz north, 327zz south) and ETRS89 (258zz, zones 28
 * to 38). Null for other codes.
 */
export function utmDefinition(epsg: number): string | null {
  const zone = epsg % 100;
  const family = Math.floor(epsg / 100);
  if (!(zone >= 1 && zone <= 60)) return null;
  if (family === 326) return `+proj=utm +zone=${zone} +datum=WGS84 +units=m +no_defs`;
  if (family === 327) return `+proj=utm +zone=${zone} +south +datum=WGS84 +units=m +no_defs`;
  if (family !== 258 || !(zone >= 28 && zone <= 38)) return null;
  return `+proj=utm +zone=${zone} +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +units=m +no_defs`;
}

/** EPSG code of the WGS 84 UTM zone that a position lies in. */
export function utmZoneAt({ longitude, latitude }: LonLat): number {
  const zone = Math.min(60, Math.max(1, Math.floor((longitude + 180) / 6) + 1));
  return (latitude < 0 ? 32700 : 32600) + zone;
}

/**
 * The projection of an EPSG code: of its definition, else of its UTM zone. Throws where there is
 * neither, and where PROJ cannot read the definition. Positions beyond its reach become NaN.
 */
export function mapProjection(
  epsg: number,
  definition: string | null = utmDefinition(epsg),
): MapProjection {
  if (definition === null) {
    throw new Error(`EPSG:${epsg} is no UTM zone and the centreline has no projection`);
  }
  const converter = proj4("+proj=longlat +datum=WGS84 +no_defs", definition);
  return {
    epsg,
    definition,
    toGrid: ({ longitude, latitude }) => {
      const [easting_m, northing_m] = safely(converter.forward, [longitude, latitude]);
      return { easting_m, northing_m };
    },
    toLonLat: ({ easting_m, northing_m }) => {
      const [longitude, latitude] = safely(converter.inverse, [easting_m, northing_m]);
      return { longitude, latitude };
    },
  };
}

type Pair = [number, number];

function safely(convert: (pair: Pair) => Pair, pair: Pair): Pair {
  const nowhere: Pair = [Number.NaN, Number.NaN];
  if (!pair.every(Number.isFinite)) return nowhere;
  try {
    const converted = convert(pair);
    return converted.every(Number.isFinite) ? converted : nowhere;
  } catch {
    return nowhere;
  }
}

const projections = new WeakMap<Centreline, MapProjection>();

/** The projection of a centreline's coordinates: its own definition, or that of its UTM code. */
export function centrelineProjection(centreline: Centreline): MapProjection {
  const known = projections.get(centreline);
  if (known !== undefined) return known;
  const projection = mapProjection(centreline.epsg, centreline.projection);
  projections.set(centreline, projection);
  return projection;
}

// WGS 84: semi-major axis, m, and first eccentricity squared.
const a_m = 6378137;
const e2 = 0.0066943799901413165;

/**
 * Grid distance over distance on the ellipsoid at a position: east-west and north-south. Radii of
 * curvature after Snyder (1987), Map Projections, USGS Professional Paper 1395, eqs 4-18, 4-20.
 */
export function scaleAt(projection: MapProjection, at: LonLat): { east: number; north: number } {
  const step = 1e-4;
  const degree = Math.PI / 180;
  const w2 = 1 - e2 * Math.sin(at.latitude * degree) ** 2;
  const eastward_m = (a_m / Math.sqrt(w2)) * Math.cos(at.latitude * degree) * 2 * step * degree;
  const northward_m = ((a_m * (1 - e2)) / w2 ** 1.5) * 2 * step * degree;
  const across = (lon: number, lat: number) =>
    projection.toGrid({ longitude: at.longitude + lon, latitude: at.latitude + lat });
  return {
    east: distance_m(across(-step, 0), across(step, 0)) / eastward_m,
    north: distance_m(across(0, -step), across(0, step)) / northward_m,
  };
}

/**
 * Distance on the ellipsoid of two points of the grid, m: the grid distance over the line's scale,
 * by Simpson's rule from its ends and middle.
 */
export function groundDistance_m(projection: MapProjection, from: Grid, to: Grid): number {
  const middle = {
    easting_m: (from.easting_m + to.easting_m) / 2,
    northing_m: (from.northing_m + to.northing_m) / 2,
  };
  const scale = ({ easting_m, northing_m }: Grid) => {
    const { east, north } = scaleAt(projection, projection.toLonLat({ easting_m, northing_m }));
    return (east + north) / 2;
  };
  return (distance_m(from, to) * (1 / scale(from) + 4 / scale(middle) + 1 / scale(to))) / 6;
}

/** Distance on the grid, m. */
export function distance_m(from: Grid, to: Grid): number {
  return Math.hypot(to.easting_m - from.easting_m, to.northing_m - from.northing_m);
}
