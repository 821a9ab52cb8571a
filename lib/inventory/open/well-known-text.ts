import type { Grid, MapProjection } from "../../survey/bank/projection.js";

/** Longitudes and latitudes of a point or a line in well-known text; none of null. */
export function placesOf(text: string | null): readonly (readonly [number, number])[] {
  const inside = /^(?:POINT|LINESTRING)\s*\(([^()]*)\)$/.exec(text ?? "")?.[1];
  if (inside === undefined) return [];
  return inside.split(",").map((pair) => {
    const [longitude = Number.NaN, latitude = Number.NaN] = pair.trim().split(/\s+/).map(Number);
    return [longitude, latitude];
  });
}

export function gridOf(text: string | null, { toGrid }: MapProjection): readonly Grid[] {
  return placesOf(text).map(([longitude, latitude]) => toGrid({ longitude, latitude }));
}
