import { describe, expect, it } from "vitest";
import { slicesAt25 } from "../../lib/seepage/evidence/slices-at-25.js";
import { isCoarse, perviousThreshold } from "../../lib/seepage/pervious-threshold.js";
import type { Borehole } from "../../lib/survey/survey.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { expectClose } from "../support/expect-close.js";

const borehole = (chainage_m: number, soils: readonly [string, string, string]): Borehole => ({
  borehole: `BH ${chainage_m}`,
  chainage_m,
  offset_m: 0,
  elevation_m: 6,
  depth_m: 5,
  strata: soils.map((soil, k) => ({
    top_m: [0, 1, 2.5][k]!,
    base_m: [1, 2.5, 5][k]!,
    soil,
    description: "",
  })),
  laboratory: [],
});

describe("isCoarse", () => {
  it.each([
    ["Sa", true],
    ["siSa", true],
    ["grSa", true],
    ["saGr", true],
    ["saSi", false],
    ["siCl", false],
    ["sagrCl", false],
    ["Or", false],
    ["Mg", false],
    ["", false],
  ])("reads the principal fraction of %s (ISO 14688-1)", (soil, coarse) => {
    expect(isCoarse(soil)).toBe(coarse);
  });
});

describe("perviousThreshold", () => {
  // Clean ground: 20 ohm-m up to 400 m, 80 ohm-m beyond, in every slice.
  const given = makeDepthSlices({
    truth: (x) => Math.log10(x < 400 ? 20 : 80),
    texture: 0,
    sd: 1e-6,
  });
  const slices = slicesAt25(given, 1);

  it("lies midway, on a log scale, between fine and coarse strata at boreholes", () => {
    const holes = [borehole(200, ["Cl", "siCl", "Cl"]), borehole(600, ["Sa", "grSa", "Gr"])];
    const found = perviousThreshold(slices, holes, 60);
    expect(found.local).toBe(true);
    // sqrt(20 · 80) = 40.
    expectClose(found.threshold_ohm_m, 40, { relative: 1e-4 });
  });

  it("is the declared one with too few strata of a kind, and says so", () => {
    const found = perviousThreshold(slices, [borehole(200, ["Cl", "siCl", "Cl"])], 60);
    expect(found).toMatchObject({ threshold_ohm_m: 60, local: false });
    expect(found.source).toContain("0 coarse and 3 fine");
  });

  it("is the declared one where coarse ground is not the more resistive", () => {
    const holes = [borehole(600, ["Cl", "siCl", "Cl"]), borehole(200, ["Sa", "grSa", "Gr"])];
    expect(perviousThreshold(slices, holes, 60).local).toBe(false);
  });
});
