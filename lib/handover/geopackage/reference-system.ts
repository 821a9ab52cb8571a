import proj4 from "proj4";
import { mapProjection } from "../../survey/bank/projection.js";
import type { Centreline } from "../../survey/survey.js";

/** A row of gpkg_spatial_ref_sys, the columns in the table's order. */
export type ReferenceSystemRow = readonly [
  srs_name: string,
  srs_id: number,
  organization: string,
  organization_coordsys_id: number,
  definition: string,
  description: string,
];

const wgs84 =
  'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,' +
  'AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,' +
  'AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],' +
  'AUTHORITY["EPSG","4326"]]';

/** The systems that the standard asks for. Source: OGC 12-128r17, requirement 11. */
export const standardSystems: readonly ReferenceSystemRow[] = [
  ["Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "undefined Cartesian coordinates"],
  ["Undefined geographic SRS", 0, "NONE", 0, "undefined", "undefined geographic coordinates"],
  ["WGS 84 geodetic", 4326, "EPSG", 4326, wgs84, "longitude and latitude, degrees, WGS 84"],
];

/** The survey's own system, projected, by its EPSG code. */
export function surveySystem(centreline: Centreline): ReferenceSystemRow {
  const { epsg, definition } = mapProjection(centreline.epsg, centreline.projection);
  const wkt = projectedWkt(epsg, definition);
  return [
    `EPSG:${epsg}`,
    epsg,
    "EPSG",
    epsg,
    wkt ?? "undefined",
    `easting, northing; ${definition}`,
  ];
}

/** What is read of a parsed PROJ string: angles in radians, lengths in m, the shift as given. */
interface Parsed {
  readonly projName: string;
  readonly a: number;
  readonly b: number;
  readonly rf?: number;
  readonly datumName?: string;
  readonly datum_params?: readonly (number | string)[];
  readonly ellps?: string;
  readonly [name: string]: unknown;
}

const transverse = {
  name: "Transverse_Mercator",
  angles: { latitude_of_origin: "lat0", central_meridian: "long0" },
  scale: true,
} as const;
const methods: Readonly<Record<string, Method>> = {
  utm: transverse,
  tmerc: transverse,
  etmerc: transverse,
  sterea: { ...transverse, name: "Oblique_Stereographic" },
  lcc: {
    name: "Lambert_Conformal_Conic_2SP",
    angles: {
      standard_parallel_1: "lat1",
      standard_parallel_2: "lat2",
      latitude_of_origin: "lat0",
      central_meridian: "long0",
    },
    scale: false,
  },
};

interface Method {
  readonly name: string;
  /** Parameter → the parsed name of its angle. */
  readonly angles: Readonly<Record<string, string>>;
  readonly scale: boolean;
}

/**
 * Well-known text (OGC 01-009, version 1) of a PROJ string with one of the methods that national
 * grids use: transverse Mercator, Lambert conformal conic, oblique stereographic. Null for others:
 * a reader then goes by the EPSG code that stands beside it.
 */
export function projectedWkt(epsg: number, definition: string): string | null {
  const parsed = new proj4.Proj(definition) as unknown as Parsed;
  const method = methods[parsed.projName];
  if (method === undefined) return null;
  const angles = Object.entries(method.angles).map(([name, from]) => [name, degrees(parsed[from])]);
  const parameters = [
    ...angles,
    ...(method.scale ? [["scale_factor", Number(parsed.k0)]] : []),
    ["false_easting", Number(parsed.x0)],
    ["false_northing", Number(parsed.y0)],
  ].map(([name, value]) => `PARAMETER["${name}",${value}]`);
  return (
    `PROJCS["EPSG:${epsg}",${geographic(parsed)},PROJECTION["${method.name}"],` +
    `${parameters.join(",")},UNIT["metre",1,AUTHORITY["EPSG","9001"]],` +
    `AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","${epsg}"]]`
  );
}

function geographic({ datumName, datum_params = [], ellps, a, b, rf }: Parsed): string {
  if (datumName === "WGS84") return wgs84;
  const shift = [...datum_params.map(Number), 0, 0, 0, 0, 0, 0, 0].slice(0, 7);
  const inverseFlattening = rf ?? (a === b ? 0 : a / (a - b));
  const name = `${ellps ?? "own"} ellipsoid`;
  return (
    `GEOGCS["on the ${name}",DATUM["on_the_${name.replaceAll(" ", "_")}",` +
    `SPHEROID["${name}",${a},${inverseFlattening}],TOWGS84[${shift.join(",")}]],` +
    'PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]'
  );
}

function degrees(radians: unknown): number {
  return Number(((Number(radians) * 180) / Math.PI).toFixed(10));
}
