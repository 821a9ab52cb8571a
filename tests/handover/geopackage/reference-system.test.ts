import { describe, expect, it } from "vitest";
import { projectedWkt } from "../../../lib/handover/geopackage/reference-system.js";
import { mapProjection } from "../../../lib/survey/bank/projection.js";
import { expectClose } from "../../support/expect-close.js";

// Easting and northing of one place of each grid as PROJ 9 gives them from the text, m:
// pyproj.Transformer.from_crs("EPSG:4326", CRS.from_wkt(text), always_xy=True).transform(lon, lat)
const grids = [
  {
    epsg: 32631,
    definition: undefined,
    at: [5.1, 49.7],
    is: [651429.7859772262, 5507393.113481476],
  },
  {
    epsg: 32733,
    definition: undefined,
    at: [15.3, -22.1],
    is: [530944.5980686255, 7556073.897631429],
  },
  {
    epsg: 25832,
    definition: undefined,
    at: [5.1, 49.7],
    is: [218798.40602773987, 5512580.4366999585],
  },
  {
    epsg: 27700,
    definition:
      "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy " +
      "+towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 +units=m +no_defs",
    at: [-1.1, 52.3],
    is: [461469.7472774162, 267256.33804504457],
  },
  {
    epsg: 2154,
    definition:
      "+proj=lcc +lat_1=49 +lat_2=44 +lat_0=46.5 +lon_0=3 +x_0=700000 +y_0=6600000 " +
      "+ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +units=m +no_defs",
    at: [5.1, 49.7],
    is: [851571.827828153, 6957676.975131739],
  },
  {
    epsg: 28992,
    definition:
      "+proj=sterea +lat_0=52.15616055555555 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 " +
      "+y_0=463000 +ellps=bessel +towgs84=565.2369,50.0087,465.658,-0.406857,0.350733," +
      "-1.87035,4.0812 +units=m +no_defs",
    at: [5.1, 49.7],
    is: [134273.88285526953, 189892.72921944637],
  },
] as const;

describe("projectedWkt", () => {
  for (const { epsg, definition, at, is } of grids) {
    it(`EPSG:${epsg}: says of a place what the survey's own projection says, to 0.01 mm`, () => {
      const projection = mapProjection(epsg, definition);
      const text = projectedWkt(epsg, projection.definition) ?? "";
      expect(text).toContain(`AUTHORITY["EPSG","${epsg}"]`);
      const [longitude, latitude] = at;
      const own = projection.toGrid({ longitude, latitude });
      const read = mapProjection(epsg, text).toGrid({ longitude, latitude });
      for (const place of [own, read]) {
        expectClose(place.easting_m, is[0], { absolute: 1e-5 });
        expectClose(place.northing_m, is[1], { absolute: 1e-5 });
      }
    });
  }

  it("gives no text for a method that it does not know", () => {
    expect(projectedWkt(3035, "+proj=laea +lat_0=52 +lon_0=10 +ellps=GRS80 +units=m")).toBeNull();
  });
});
