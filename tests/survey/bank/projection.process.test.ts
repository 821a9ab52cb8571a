// Projections and distances against PROJ itself (Debian's proj-bin: cs2cs and geod).
import { spawnSync } from "node:child_process";
import { expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import {
  groundDistance_m,
  type LonLat,
  mapProjection,
  utmDefinition,
} from "../../../lib/survey/bank/projection.js";
import { expectClose } from "../../support/expect-close.js";
import { describeWith } from "../../support/needs.js";

function run(program: "cs2cs" | "geod", args: readonly string[], lines: readonly string[]) {
  const { stdout, status } = spawnSync(program, [...args], { input: lines.join("\n") });
  expect(status).toBe(0);
  return String(stdout)
    .trim()
    .split("\n")
    .map((line) => line.trim().split(/\s+/).map(Number));
}

/** Places in a zone, by seed: up to 3° from its meridian, away from the poles. */
function placesIn(meridian: number, south: boolean): readonly LonLat[] {
  const random = seededRandom(meridian + 200);
  return Array.from({ length: 25 }, () => ({
    longitude: meridian + 6 * (random.uniform() - 0.5),
    latitude: (south ? -1 : 1) * (5 + 70 * random.uniform()),
  }));
}

const zones = [
  { epsg: 32631, meridian: 3, south: false },
  { epsg: 32755, meridian: 147, south: true },
  { epsg: 25832, meridian: 9, south: false },
];

describeWith("cs2cs", "projections against PROJ's cs2cs", () => {
  it.each(zones)("agree to a millimetre in EPSG:$epsg", ({ epsg, meridian, south }) => {
    const places = placesIn(meridian, south);
    const definition = utmDefinition(epsg)!;
    const projection = mapProjection(epsg, definition);
    // cs2cs -f %.6f "+proj=longlat +datum=WGS84" +to <definition>
    const args = ["-f", "%.6f", "+proj=longlat", "+datum=WGS84", "+to", ...definition.split(" ")];
    const lines = places.map(({ longitude, latitude }) => `${longitude} ${latitude}`);
    for (const [i, [easting, northing]] of run("cs2cs", args, lines).entries()) {
      const grid = projection.toGrid(places[i]!);
      expectClose(grid.easting_m, easting!, { absolute: 1e-3 });
      expectClose(grid.northing_m, northing!, { absolute: 1e-3 });
      const back = projection.toLonLat({ easting_m: easting!, northing_m: northing! });
      // 2e-8 degree is 2 mm.
      expectClose(back.longitude, places[i]!.longitude, { absolute: 2e-8 });
      expectClose(back.latitude, places[i]!.latitude, { absolute: 2e-8 });
    }
  });

  it("agree for a grid with its own definition (EPSG:28992, an oblique stereographic one)", () => {
    const definition =
      "+proj=sterea +lat_0=52.1561605555556 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 " +
      "+y_0=463000 +ellps=bessel +towgs84=565.4171,50.3319,465.5524,1.9342,-1.6677,9.1019,4.0725 " +
      "+units=m +no_defs";
    const places = placesIn(5.4, false).map(({ longitude }, i) => ({
      longitude,
      latitude: 51 + i / 12,
    }));
    const projection = mapProjection(28992, definition);
    const args = ["-f", "%.6f", "+proj=longlat", "+datum=WGS84", "+to", ...definition.split(" ")];
    const lines = places.map(({ longitude, latitude }) => `${longitude} ${latitude}`);
    for (const [i, [easting, northing]] of run("cs2cs", args, lines).entries()) {
      const grid = projection.toGrid(places[i]!);
      // The datum shift is iterated to a hair in both; a centimetre is far under any receiver's
      // error.
      expectClose(grid.easting_m, easting!, { absolute: 0.01 });
      expectClose(grid.northing_m, northing!, { absolute: 0.01 });
    }
  });
});

describeWith("geod", "distances on the ground against PROJ's geod", () => {
  it.each(zones)(
    "agree to 2 mm over legs of up to 3 km in EPSG:$epsg",
    ({ epsg, meridian, south }) => {
      const projection = mapProjection(epsg, utmDefinition(epsg)!);
      const random = seededRandom(epsg);
      const legs = placesIn(meridian, south).map((from) => {
        const to = {
          longitude: from.longitude + 0.03 * (random.uniform() - 0.5),
          latitude: from.latitude + 0.03 * (random.uniform() - 0.5),
        };
        return { from, to };
      });
      const lines = legs.map(
        ({ from, to }) => `${from.latitude} ${from.longitude} ${to.latitude} ${to.longitude}`,
      );
      // geod -I -f %.9f -F %.6f +ellps=WGS84: azimuth, back azimuth, distance
      const args = ["-I", "-f", "%.9f", "-F", "%.6f", "+ellps=WGS84"];
      for (const [i, row] of run("geod", args, lines).entries()) {
        const { from, to } = legs[i]!;
        const found = groundDistance_m(projection, projection.toGrid(from), projection.toGrid(to));
        // Azimuths are measured on the ellipsoid; the grid's straight line bows by under a
        // millimetre.
        expectClose(found, row[2]!, { absolute: 2e-3 });
      }
    },
  );
});
