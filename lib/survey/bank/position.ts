import { firstOf } from "../../numerics/arrays.js";
import { lastAtMost } from "../../numerics/functions/linear-between.js";
import type { Centreline } from "../centreline.js";
import { candidatesAt } from "./chainage-candidates.js";
import { centrelineProjection, type Grid, type LonLat } from "./projection.js";

/**
 * The place at a chainage and an offset from the centreline.
 *
 * `chainage_m` along the centreline (m; beyond the ends the end segments go on straight),
 * `offset_m` positive to the left seen toward increasing chainage (m, default 0), square to the
 * segment that the chainage lies on. Returns projected coordinates, m; NaN for NaN. Source: plane
 * geometry.
 *
 * @example
 * const centreline = {
 *   easting_m: Float64Array.of(500000, 500200), northing_m: Float64Array.of(5800000, 5800000),
 *   chainage_m: Float64Array.of(0, 200), epsg: 32631, projection: "",
 * };
 * positionAt(centreline, 100); // { easting_m: 500100, northing_m: 5800000 }
 */
export function positionAt(centreline: Centreline, chainage_m: number, offset_m = 0): Grid {
  const { easting_m: x, northing_m: y, chainage_m: s } = centreline;
  const k = Math.max(0, lastAtMost(s, chainage_m, [0, s.length - 2]));
  const ground_m = s[k + 1]! - s[k]!;
  const [east, north] = [(x[k + 1]! - x[k]!) / ground_m, (y[k + 1]! - y[k]!) / ground_m];
  const along_m = chainage_m - s[k]!;
  return {
    easting_m: x[k]! + east * along_m - north * offset_m,
    northing_m: y[k]! + north * along_m + east * offset_m,
  };
}

/** Longitude and latitude (WGS 84, degrees) at a chainage and an offset; see `positionAt`. */
export function lonLatAt(centreline: Centreline, chainage_m: number, offset_m = 0): LonLat {
  return toLonLat(centreline, positionAt(centreline, chainage_m, offset_m));
}

/** Longitude and latitude (WGS 84, degrees) of a position in the centreline's coordinates. */
export function toLonLat(centreline: Centreline, at: Grid): LonLat {
  return centrelineProjection(centreline).toLonLat(at);
}

/** Chainage and offset, m, of the point of the centreline that lies nearest to one position. */
export function chainageAt(
  centreline: Centreline,
  { easting_m, northing_m }: Grid,
): { readonly chainage_m: number; readonly offset_m: number; readonly distance_m: number } {
  if (!Number.isFinite(easting_m + northing_m)) {
    return { chainage_m: Number.NaN, offset_m: Number.NaN, distance_m: Number.NaN };
  }
  return firstOf(candidatesAt(centreline, easting_m, northing_m));
}
