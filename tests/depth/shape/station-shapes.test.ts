import { describe, expect, it } from "vitest";
import { gatherStations } from "../../../lib/depth/data/gather-stations.js";
import { shapeCautions } from "../../../lib/depth/shape/account.js";
import { withShape } from "../../../lib/depth/shape/shape-in-slices.js";
import { shapeAt, stationShapes } from "../../../lib/depth/shape/station-shapes.js";
import type { CrossSection, CrossSectionProfile } from "../../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

const SECTION: CrossSection = {
  crestWidth_m: 4,
  crestElevation_m: 6.2,
  foundationElevation_m: 2.4,
  watersideSlope: 3,
  landsideSlope: 2.5,
};
const one = (section: Partial<CrossSection> = {}): CrossSectionProfile => ({
  chainage_m: [0],
  section: [{ ...SECTION, ...section }],
  waterside: "left",
});
const stations = { chainage_m: Float64Array.from({ length: 51 }, (_, i) => 2 * i) };

function walked(crossSections: CrossSectionProfile | null, left_m = 0) {
  const chainage_m = Array.from({ length: 101 }, (_, i) => i);
  const pass = {
    channels: [channelOf(), channelOf({ orientation: "VCP" })],
    values: [chainage_m.map(() => 400), chainage_m.map(() => 300)],
    chainage_m,
    offset_m: chainage_m.map(() => left_m),
  };
  return { ...campaignOf({ passes: [pass] }), ...(crossSections && { crossSections }) };
}

describe("cross-sections under stations", () => {
  it("are one shape where the survey states constants", () => {
    const found = stationShapes(stations, walked(one()));
    expect(found.shapes.length).toBe(1);
    expect(found.of.every((k) => k === 0)).toBe(true);
    const { height_m, ...shape } = shapeAt(found, 7)!;
    expect(height_m).toBeCloseTo(3.8, 12);
    expect(shape).toEqual({
      crestWidth_m: 4,
      watersideSlope: 3,
      landsideSlope: 2.5,
      offset_m: 0,
    });
  });

  it("are few shapes along a table, each within 7 % of the station's own", () => {
    const wide = { ...SECTION, crestWidth_m: 6, crestElevation_m: 7.4 };
    const table = { chainage_m: [0, 100], section: [SECTION, wide], waterside: "left" } as const;
    const found = stationShapes(stations, walked(table));
    expect(found.shapes.length).toBeGreaterThan(3);
    expect(found.shapes.length).toBeLessThan(9);
    for (const [i, x] of stations.chainage_m.entries()) {
      const shape = shapeAt(found, i)!;
      expect(Math.abs(Math.log(shape.crestWidth_m / (4 + 0.02 * x)))).toBeLessThan(0.07);
      expect(Math.abs(Math.log(shape.height_m / (3.8 + 0.012 * x)))).toBeLessThan(0.07);
    }
  });

  it("have the line where it was walked, positive to the landside", () => {
    const offset = (left_m: number, waterside: "left" | "right") =>
      shapeAt(stationShapes(stations, walked({ ...one(), waterside }, left_m)), 0)?.offset_m;
    expect(offset(0.7, "left")).toBe(-0.7);
    expect(offset(0.7, "right")).toBe(0.7);
    // Half a metre outside the edge is on it; farther out the line is not on the crest.
    expect(offset(2.4, "right")).toBe(2);
    expect(offset(2.6, "right")).toBeUndefined();
  });

  it("have the mean slope on both sides where the water's side is not known", () => {
    const found = shapeAt(stationShapes(stations, walked({ ...one(), waterside: null })), 0);
    expect([found?.watersideSlope, found?.landsideSlope]).toEqual([2.75, 2.75]);
  });

  it("are not known where any part is missing, or without height", () => {
    for (const field of Object.keys(SECTION)) {
      expect(stationShapes(stations, walked(one({ [field]: null }))).lacks).toBe("cross-section");
    }
    expect(stationShapes(stations, walked(one({ foundationElevation_m: 6.2 }))).lacks).toBe(
      "cross-section",
    );
    expect(stationShapes(stations, walked(null)).lacks).toBe("cross-section");
    expect(stationShapes(stations, walked(one(), 9)).lacks).toBe("crest");
  });
});

describe("what is said of the shape", () => {
  const told = (campaign: ReturnType<typeof walked>, asked: "apply" | "leave" = "apply") => {
    const found = withShape(gatherStations(campaign, 2), campaign, asked);
    return { ...found, text: shapeCautions(found.shape).join(" ") };
  };

  it("is its size, and whether it was applied", () => {
    const applied = told(walked(one()));
    expect(applied.stations.bank?.shapes.shapes.length).toBe(1);
    expect(applied.shape.state).toBe("applied");
    // Finite elements: 0.833 of level ground for HCP at 1.8 m, 0.858 for VCP.
    expect(applied.text).toMatch(/crest of 4\.0 m, 3\.8 m high.*reads 14–17 % lower/);
    const left = told(walked(one()), "leave");
    expect(left.stations.bank).toBeUndefined();
    expect(left.text).toMatch(/as over level ground, as asked; .* 14–17 % low\./);
  });

  it("is that it is not known, and what a usual bank would do", () => {
    const without = told(walked(null));
    expect(without.stations.bank).toBeUndefined();
    expect(without.text).toMatch(/does not state .* crest of 4\.0 m, 4\.0 m high.* % low\./);
    expect(told(walked(one(), 9)).text).toMatch(/^The line runs beside the crest/);
  });

  it("counts the stations without a cross-section", () => {
    const gap = { ...SECTION, crestWidth_m: null };
    const table = {
      chainage_m: [0, 60, 62, 100],
      section: [SECTION, SECTION, gap, gap],
      waterside: "left",
    } as const;
    expect(told(walked(table)).text).toMatch(/21 stations have no cross-section/);
  });
});
