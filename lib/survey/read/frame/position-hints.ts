import type { Grid, LonLat, MapProjection } from "../../bank/projection.js";

type IsNear = (grid: Grid) => boolean;

/** What far coordinates of the grid likely are; null where nothing comes to mind. */
export function gridHint({ easting_m, northing_m }: Grid, isNear: IsNear): string | null {
  if (Math.abs(easting_m) <= 180 && Math.abs(northing_m) <= 90) {
    return "looks like degrees; those belong into longitude and latitude";
  }
  if (isNear({ easting_m: 1000 * easting_m, northing_m: 1000 * northing_m })) {
    return "looks like kilometres, expected metres";
  }
  if (isNear({ easting_m: easting_m % 1e6, northing_m })) {
    return "the zone's number stands before the easting; take it away";
  }
  return null;
}

/** What a far longitude and latitude likely are. */
export function globeHint(
  { longitude, latitude }: LonLat,
  isNear: IsNear,
  projection: MapProjection,
): string | null {
  const isThere = (at: LonLat) => isNear(projected(projection, at));
  if (longitude === 0 && latitude === 0) {
    return "a GPS without a position writes 0, 0; leave the cells blank";
  }
  if (longitude === latitude && Math.abs(longitude) > 180) {
    return "looks like a mark for no position; leave the cells blank";
  }
  if (isThere({ longitude: -longitude, latitude })) {
    return "the sign of the longitude looks wrong; west is below zero";
  }
  if (isThere({ longitude, latitude: -latitude })) {
    return "the sign of the latitude looks wrong; south is below zero";
  }
  if (isThere({ longitude: ofMinutes(longitude), latitude: ofMinutes(latitude) })) {
    return "looks like degrees and minutes in one number; give degrees with decimals";
  }
  if (isNear({ easting_m: longitude, northing_m: latitude })) {
    return "looks like metres of the grid; those belong into easting and northing";
  }
  return null;
}

/** Receivers write 54° 30' as 5430. */
function ofMinutes(value: number): number {
  const degrees = Math.trunc(value / 100);
  return degrees + (value - 100 * degrees) / 60;
}

/** NaN for what is no place on the globe. */
export function projected(projection: MapProjection, at: LonLat): Grid {
  const isInside = Math.abs(at.longitude) <= 180 && Math.abs(at.latitude) <= 90;
  return isInside ? projection.toGrid(at) : { easting_m: Number.NaN, northing_m: Number.NaN };
}
