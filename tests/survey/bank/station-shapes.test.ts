import { describe, expect, it } from "vitest";
import { shapeAt, stationShapes } from "../../../lib/survey/bank/station-shapes.js";
import { crossSectionOf as one, SECTION } from "../../support/cross-sections.js";

const chainage_m = Array.from({ length: 51 }, (_, i) => 2 * i);

describe("cross-sections under stations", () => {
  it("are one shape where the survey states constants", () => {
    const found = stationShapes(chainage_m, 0, one());
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
    const found = stationShapes(chainage_m, 0, table);
    expect(found.shapes.length).toBeGreaterThan(3);
    expect(found.shapes.length).toBeLessThan(9);
    for (const [i, x] of chainage_m.entries()) {
      const shape = shapeAt(found, i)!;
      expect(Math.abs(Math.log(shape.crestWidth_m / (4 + 0.02 * x)))).toBeLessThan(0.07);
      expect(Math.abs(Math.log(shape.height_m / (3.8 + 0.012 * x)))).toBeLessThan(0.07);
    }
  });

  it("have the line where it was walked, positive to the landside", () => {
    const offset = (left_m: number, waterside: "left" | "right") =>
      shapeAt(stationShapes(chainage_m, left_m, { ...one(), waterside }), 0)?.offset_m;
    expect(offset(0.7, "left")).toBe(-0.7);
    expect(offset(0.7, "right")).toBe(0.7);
    // Half a metre outside the edge is on it; farther out the line is not on the crest.
    expect(offset(2.4, "right")).toBe(2);
    expect(offset(2.6, "right")).toBeUndefined();
  });

  it("have the mean slope on both sides where the water's side is not known", () => {
    const found = shapeAt(stationShapes(chainage_m, 0, { ...one(), waterside: null }), 0);
    expect([found?.watersideSlope, found?.landsideSlope]).toEqual([2.75, 2.75]);
  });

  it("are not known where any part is missing, or without height", () => {
    for (const field of Object.keys(SECTION)) {
      expect(stationShapes(chainage_m, 0, one({ [field]: null })).lacks).toBe("cross-section");
    }
    expect(stationShapes(chainage_m, 0, one({ foundationElevation_m: 6.2 })).lacks).toBe(
      "cross-section",
    );
    expect(stationShapes(chainage_m, 0).lacks).toBe("cross-section");
    expect(stationShapes(chainage_m, 9, one()).lacks).toBe("crest");
  });
});
