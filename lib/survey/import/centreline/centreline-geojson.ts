import { valueAt } from "../../../numerics/arrays.js";
import {
  type Grid,
  type LonLat,
  type MapProjection,
  mapProjection,
  utmZoneAt,
} from "../../bank/projection.js";
import type { SurveyProperties } from "../../read/package/descriptor.js";
import type { FirstPass } from "../write/first-pass.js";
import { lineOfWalk } from "./line-of-walk.js";

/** The centreline as GeoJSON: the vertices of a table as they are, or a line made from a walk. */
export function centrelineGeojson(
  pass: FirstPass,
  { survey, from }: { readonly survey: SurveyProperties; readonly from: "vertices" | "walk" },
): string {
  const grid = placesOf(pass, survey);
  const line = from === "walk" ? lineOfWalk(grid.places) : grid.places;
  const coordinates = line.map((place) => {
    const { longitude, latitude } = grid.projection.toLonLat(place);
    return [Number(longitude.toFixed(8)), Number(latitude.toFixed(8))];
  });
  const properties = {
    chainageStart_m: 0,
    source: `${from === "walk" ? "made from the walk in" : "vertices of"} raw/${pass.plan.source.file.name}`,
  };
  const feature = { type: "Feature", properties, geometry: { type: "LineString", coordinates } };
  return `${JSON.stringify({ type: "FeatureCollection", features: [feature] })}\n`;
}

/** Of more positions an even choice says as much of a line. */
const MOST_POSITIONS = 50_000;

interface Places {
  readonly places: readonly Grid[];
  readonly projection: MapProjection;
}

function placesOf(pass: FirstPass, { crs, crsDefinition }: SurveyProperties): Places {
  const every = Math.ceil(pass.across.length / MOST_POSITIONS);
  const pairs = Array.from(
    { length: Math.ceil(pass.across.length / Math.max(1, every)) },
    (_, k) => {
      return [valueAt(pass.across, k * every), valueAt(pass.along, k * every)] as const;
    },
  );
  const isGrid = pass.plan.position?.fields[0] === "easting";
  if (isGrid) {
    const projection = mapProjection(Number(crs), crsDefinition);
    const places = pairs.map(([easting_m, northing_m]) => ({ easting_m, northing_m }));
    return { places, projection };
  }
  const globe = pairs.map(([longitude, latitude]): LonLat => ({ longitude, latitude }));
  const projection = mapProjection(utmZoneAt(globe[0] ?? { longitude: 0, latitude: 0 }));
  return { places: globe.map((at) => projection.toGrid(at)), projection };
}
