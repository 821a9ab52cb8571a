import { describe, expect, it } from "vitest";
import { surveyOf, type Work } from "../../lib/chain/work.js";
import { geoJson } from "../../lib/handover/geojson.js";
import { standardLayers } from "../../lib/handover/layers/standard-layers.js";
import { lonLatAt } from "../../lib/survey/bank/position.js";
import { expectClose } from "../support/expect-close.js";
import { hostile, smallCampaign, smallFindings, smallWork } from "./support/small-findings.js";

const work = smallWork();
const { centreline } = surveyOf(work).value;
const layers = standardLayers(smallFindings, work);
const read = (name: string) =>
  JSON.parse(geoJson(layers.find((layer) => layer.name === name)!, centreline));

describe("geoJson", () => {
  it("is a feature collection of RFC 7946: no crs, longitude first, properties by name", () => {
    for (const { name, features, fields, geometry } of layers) {
      const collection = read(name);
      expect(Object.keys(collection)).toEqual(["type", "features"]);
      expect(collection.features).toHaveLength(features.length);
      for (const feature of collection.features) {
        expect(Object.keys(feature)).toEqual(["type", "geometry", "properties"]);
        expect(feature.geometry.type).toBe(geometry);
        expect(Object.keys(feature.properties)).toEqual(fields.map((one) => one.name));
      }
    }
  });

  it("puts a block where its chainages are on WGS 84", () => {
    const [first] = read("blocks").features;
    for (const [i, chainage_m] of [0, 300].entries()) {
      const { longitude, latitude } = lonLatAt(centreline, chainage_m);
      const [x, y] = first.geometry.coordinates[i];
      expectClose(x, longitude, { absolute: 1e-7 });
      expectClose(y, latitude, { absolute: 1e-7 });
    }
  });

  it("draws a stretch of no length as long as chainages are told apart", () => {
    const [stretch] = read("set_aside").features;
    const [from, to] = stretch.geometry.coordinates;
    expect(to[0]).toBeGreaterThan(from[0]);
    expect(stretch.properties.object).toBe(hostile);
  });

  it("gives a reading without a position no geometry, and one that was bridged its chainage", () => {
    const pass = smallCampaign.passes[0]!;
    const gap = Float64Array.of(500_000, Number.NaN, Number.NaN);
    const lost = {
      ...pass,
      easting_m: gap,
      chainage_m: Float64Array.of(0, 100, Number.NaN),
      positionBridged: Uint8Array.of(0, 1, 0),
    };
    const masked = [{ value: { ...smallCampaign, passes: [lost] } }];
    const [readings] = standardLayers(smallFindings, { ...work, masked } as unknown as Work);
    const { features } = JSON.parse(geoJson(readings!, centreline));
    const places = features.map((one: { geometry: { coordinates: number[] } | null }) =>
      one.geometry === null ? null : one.geometry.coordinates,
    );
    const { longitude } = lonLatAt(centreline, 100);
    expectClose(places[1][0], longitude, { absolute: 1e-7 });
    expect(places[2]).toBeNull();
    expect(features.map((one: { properties: object }) => one.properties)).toMatchObject([
      { position: "measured" },
      { position: "bridged" },
      { position: "none" },
    ]);
  });

  it("shows no trace of a line across where nobody says on which side the water is", () => {
    const [, , , , , traces] = standardLayers(smallFindings, smallWork({ waterside: null }));
    const shapes = traces!.features.map(({ places }) => places.length);
    expect(shapes).toEqual([3, 0]);
  });
});
