// What GDAL, which shares nothing with this code, reads of the map files.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { surveyOf } from "../../lib/chain/work.js";
import { geoJson } from "../../lib/handover/geojson.js";
import { geoPackage } from "../../lib/handover/geopackage/geopackage.js";
import { standardLayers } from "../../lib/handover/layers/standard-layers.js";
import { describeWith } from "../support/needs.js";
import { smallFindings, smallWork } from "./support/small-findings.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-ogr-"));
const work = smallWork();
const { centreline } = surveyOf(work).value;
const layers = standardLayers(smallFindings, work);

beforeAll(async () => {
  const bytes = await geoPackage(layers, { centreline, lastChange_s: 0 });
  writeFileSync(join(folder, "survey.gpkg"), bytes);
  for (const layer of layers) {
    writeFileSync(join(folder, `${layer.name}.geojson`), geoJson(layer, centreline));
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function told(file: string, layer: string) {
  const ran = spawnSync("ogrinfo", ["-ro", "-so", join(folder, file), layer], {
    encoding: "utf8",
  });
  expect(`${ran.stderr}`).toBe("");
  const extent = /Extent: \((\S+), (\S+)\) - \((\S+), (\S+)\)/.exec(ran.stdout) ?? [];
  return {
    count: Number(/Feature Count: (\d+)/.exec(ran.stdout)?.[1]),
    extent: extent.slice(1).map(Number),
    geometry: /^Geometry: (.*)$/m.exec(ran.stdout)?.[1],
    system: ran.stdout.match(/ID\["EPSG",\d+\]\]$/m)?.[0],
  };
}

describeWith("ogrinfo", "the map files as GDAL reads them", () => {
  for (const { name, features, geometry } of layers) {
    it(`${name}: count, geometry, extent and reference system`, () => {
      const places = features.flatMap((feature) => feature.places);
      const [x, y] = [places.map((at) => at.easting_m), places.map((at) => at.northing_m)];
      const read = told("survey.gpkg", name);
      expect(read.count).toBe(features.length);
      expect(read.geometry).toBe(geometry === "Point" ? "Point" : "Line String");
      expect(read.extent).toEqual([Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)]);
      expect(read.system).toBe('ID["EPSG",32631]]');
    });

    it(`${name}.geojson: count and reference system`, () => {
      const read = told(`${name}.geojson`, name);
      expect(read.count).toBe(features.length);
      expect(read.system).toBe('ID["EPSG",4326]]');
    });
  }
});
