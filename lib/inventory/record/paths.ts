import { stretchPlaces } from "../../handover/layers/line-places.js";
import { positionAt } from "../../survey/bank/position.js";
import { centrelineProjection, type Grid } from "../../survey/bank/projection.js";
import type { Survey } from "../../survey/survey.js";
import type { LonLatPair } from "./reach-record.js";

/** Places of a survey on WGS 84, to 1e-7 degrees (about 1 cm). */
export function pathsAlong(survey: Survey) {
  const { centreline } = survey;
  const projection = centrelineProjection(centreline);
  const pair = (place: Grid): LonLatPair => {
    const { longitude, latitude } = projection.toLonLat(place);
    return [toDigits(longitude), toDigits(latitude)];
  };
  const vertices = Array.from(centreline.easting_m, (easting_m, i) => ({
    easting_m,
    northing_m: centreline.northing_m[i] ?? Number.NaN,
  }));
  return {
    line: vertices.map(pair),
    stretch: (one: Parameters<typeof stretchPlaces>[1]) => stretchPlaces(survey, one).map(pair),
    point: (chainage_m: number, offset_m: number) =>
      pair(positionAt(centreline, chainage_m, offset_m)),
  };
}

const toDigits = (degrees: number) => Math.round(1e7 * degrees) / 1e7;
