import proj4 from "proj4";
import type { BankShape } from "../earth/slopes.js";

/** The bank is straight and lies where the projection's scale is 1 to a few millionths. */
const START = Object.freeze({ easting_m: 680_000, northing_m: 6_030_000 });
const BEARING = (70 * Math.PI) / 180;
export const EPSG = 32631;
const toDegrees = proj4("+proj=utm +zone=31 +datum=WGS84 +units=m", "WGS84");

export interface Place {
  readonly easting_m: number;
  readonly northing_m: number;
}

/** Offset positive to the left of increasing chainage. */
export function placeOf(chainage_m: number, offset_m = 0): Place {
  const [east, north] = [Math.sin(BEARING), Math.cos(BEARING)];
  return {
    easting_m: START.easting_m + chainage_m * east - offset_m * north,
    northing_m: START.northing_m + chainage_m * north + offset_m * east,
  };
}

/** Longitude and latitude, degrees. */
export function degreesOf({ easting_m, northing_m }: Place): [number, number] {
  return toDegrees.forward([easting_m, northing_m]);
}

const CREST_M = 6.2;

/** As a survey declares it. */
export function crossSectionOf({ height_m, ...shape }: BankShape) {
  return {
    crestWidth_m: shape.crestWidth_m,
    crestElevation_m: CREST_M,
    foundationElevation_m: Number((CREST_M - height_m).toFixed(2)),
    watersideSlope: shape.watersideSlope,
    landsideSlope: shape.landsideSlope,
  };
}

/** Of a bank that is made without sides: its slopes are not stated. */
export const UNSTATED = Object.freeze({
  crestWidth_m: 4,
  crestElevation_m: CREST_M,
  foundationElevation_m: 2.4,
});
