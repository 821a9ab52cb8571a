import proj4 from "proj4";
import { chance, wander } from "./chance.js";
import { FACTS } from "./facts.js";

/** The centreline: where chainages lie in the plane, and planes on the globe. */

const GRID = "+proj=utm +zone=31 +datum=WGS84 +units=m +no_defs";
/** Grid metres of EPSG:32631 for a metre of ground, this close to the central meridian. */
const GRID_SCALE = 0.9996;
const START: Readonly<Record<"easting_m" | "northing_m", number>> = Object.freeze({
  easting_m: 492760,
  northing_m: 6027420,
});

/** Length (m of ground) and heading (degrees from north) of each straight. */
const STRAIGHTS: readonly (readonly [number, number])[] = [
  [145, 61],
  [130, 66],
  [155, 74],
  [140, 83],
  [165, 91],
  [120, 101],
  [135, 108],
  [190, 103],
  [150, 92],
  [140, 79],
  [160, 68],
  [155, 60],
  [125, 55],
  [170, 64],
  [145, 76],
  [175, 82],
];

interface Vertex {
  readonly chainage_m: number;
  readonly easting_m: number;
  readonly northing_m: number;
  readonly heading: number;
}

const VERTICES = layOut();

function layOut(): readonly Vertex[] {
  let at = { chainage_m: 0, ...START };
  const vertices: Vertex[] = [];
  for (const [length_m, degrees] of STRAIGHTS) {
    const heading = (degrees * Math.PI) / 180;
    vertices.push({ ...at, heading });
    at = {
      chainage_m: at.chainage_m + length_m,
      easting_m: at.easting_m + GRID_SCALE * length_m * Math.sin(heading),
      northing_m: at.northing_m + GRID_SCALE * length_m * Math.cos(heading),
    };
  }
  vertices.push({ ...at, heading: vertices.at(-1)!.heading });
  if (at.chainage_m !== FACTS.length_m) throw new Error(`centreline is ${at.chainage_m} m long`);
  return vertices;
}

export interface LonLat {
  readonly longitude: number;
  readonly latitude: number;
}

export function centrelineVertices(): readonly LonLat[] {
  return VERTICES.map((v) => toLonLat(v.easting_m, v.northing_m));
}

/** Where a chainage and an offset (positive to the left) lie; `stray` is added in grid metres. */
export function locate(
  chainage_m: number,
  offset_m: number,
  stray: { readonly east_m: number; readonly north_m: number } = { east_m: 0, north_m: 0 },
): LonLat {
  const from = VERTICES.findLast((v) => chainage_m >= v.chainage_m) ?? VERTICES[0]!;
  const along = GRID_SCALE * (chainage_m - from.chainage_m);
  const left = GRID_SCALE * offset_m;
  const sin = Math.sin(from.heading);
  const cos = Math.cos(from.heading);
  const easting_m = from.easting_m + along * sin - left * cos + stray.east_m;
  const northing_m = from.northing_m + along * cos + left * sin + stray.north_m;
  return toLonLat(easting_m, northing_m);
}

/** Position errors of a walk: about 0.3 m, correlated over several seconds. */
export function straying(part: string): (step_s: number) => { east_m: number; north_m: number } {
  const east = wander(chance(`${part}-east`), 0.21, 6);
  const north = wander(chance(`${part}-north`), 0.21, 6);
  return (step_s) => ({ east_m: east(step_s), north_m: north(step_s) });
}

function toLonLat(easting_m: number, northing_m: number): LonLat {
  const [longitude, latitude] = proj4(GRID, "WGS84", [easting_m, northing_m]);
  return { longitude: longitude!, latitude: latitude! };
}
