import { describe, expect, it } from "vitest";
import {
  groundDistance_m,
  mapProjection,
  scaleAt,
  utmDefinition,
  utmZoneAt,
} from "../../../lib/survey/bank/projection.js";
import { expectClose } from "../../support/expect-close.js";

const dms = (degrees: number, minutes: number, seconds: number) =>
  degrees + minutes / 60 + seconds / 3600;

// Worked example of the GDA Technical Manual (Geoscience Australia): geodetic positions, geodesic
// of 54,972.271 m and grid coordinates of zone 55 on GRS80. The geodetic positions and the geodesic
// are published; the grid coordinates are from memory of the same example.
const flindersPeak = {
  longitude: dms(144, 25, 29.5244),
  latitude: -dms(37, 57, 3.7203),
};
const buninyong = { longitude: dms(143, 55, 35.3839), latitude: -dms(37, 39, 10.1561) };
const zone55 = mapProjection(
  28355,
  "+proj=utm +zone=55 +south +ellps=GRS80 +towgs84=0,0,0 +units=m",
);

describe("projectionOf", () => {
  it("gives the published grid coordinates of two trig points to a millimetre", () => {
    const peak = zone55.toGrid(flindersPeak);
    expectClose(peak.easting_m, 273741.297, { absolute: 0.001 });
    expectClose(peak.northing_m, 5796489.777, { absolute: 0.001 });
    const summit = zone55.toGrid(buninyong);
    expectClose(summit.easting_m, 228854.052, { absolute: 0.001 });
    expectClose(summit.northing_m, 5828259.038, { absolute: 0.001 });
  });

  it("comes back to the same longitude and latitude", () => {
    const back = zone55.toLonLat(zone55.toGrid(flindersPeak));
    // 1e-9 degree is a tenth of a millimetre.
    expectClose(back.longitude, flindersPeak.longitude, { absolute: 1e-9 });
    expectClose(back.latitude, flindersPeak.latitude, { absolute: 1e-9 });
  });

  it("gives NaN for what has no place on the grid", () => {
    expect(zone55.toGrid({ longitude: Number.NaN, latitude: 0 }).easting_m).toBeNaN();
  });
});

describe("groundDistance_m", () => {
  it("turns the grid distance of 55 km back into the published geodesic", () => {
    const [from, to] = [zone55.toGrid(flindersPeak), zone55.toGrid(buninyong)];
    // Over this length the geodesic bows out from the grid's straight line by millimetres.
    expectClose(groundDistance_m(zone55, from, to), 54972.271, { absolute: 0.005 });
  });
});

describe("scaleAt", () => {
  it("is 0.9996 on the central meridian of a UTM zone, both ways", () => {
    const projection = mapProjection(32631, utmDefinition(32631)!);
    const { east, north } = scaleAt(projection, { longitude: 3, latitude: 54 });
    // The scale factor of UTM's central meridian, by definition of the grid.
    expectClose(east, 0.9996, { absolute: 1e-7 });
    expectClose(north, 0.9996, { absolute: 1e-7 });
  });
});

describe("utmDefinition and utmZoneAt", () => {
  it("know the zones of WGS 84 and ETRS89 and nothing else", () => {
    expect(utmDefinition(32631)).toContain("+zone=31 +datum=WGS84");
    expect(utmDefinition(32755)).toContain("+zone=55 +south");
    expect(utmDefinition(25832)).toContain("+zone=32 +ellps=GRS80");
    expect([32600, 32661, 25827, 25839, 4326].map(utmDefinition)).toEqual(Array(5).fill(null));
  });

  it("find the zone of a place", () => {
    expect(utmZoneAt({ longitude: 2.9, latitude: 54 })).toBe(32631);
    expect(utmZoneAt(buninyong)).toBe(32754);
    expect(utmZoneAt({ longitude: 180, latitude: 1 })).toBe(32660);
  });
});
