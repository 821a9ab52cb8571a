import { describe, expect, it } from "vitest";
import { depthSounding } from "../../../../lib/depth/views/sounding/depth-sounding.js";
import { StepError } from "../../../../lib/step/step-error.js";
import type { Borehole } from "../../../../lib/survey/survey.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { meetingTexts } from "../../../figures/support/text-boxes.js";
import { makeDepthSlices } from "../../../support/depth-slices.js";
import { expectClose } from "../../../support/expect-close.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

const borehole: Borehole = {
  ...{ borehole: "BH3", chainage_m: 103, offset_m: 0, elevation_m: 6.2, depth_m: 9 },
  strata: [
    { top_m: 0, base_m: 1.2, soil: "siCl", description: "silty CLAY, firm, brown" },
    { top_m: 1.2, base_m: 9, soil: "Sa", description: "medium SAND, grey, wet" },
  ],
  laboratory: [
    {
      ...{ depth_m: 0.6, fines_pct: 80, water_content_pct: 25 },
      ...{ hydraulic_conductivity_m_per_s: null, resistivity_ohm_m: 21 },
    },
  ],
};

const far: Borehole = { ...borehole, borehole: "BH4", chainage_m: 400 };

const given = makeFittedSlices({
  truth: (_x, slice) => [1.3, 1.9, 1.5][slice]!,
  ...{ texture: 0, sd: 0.02, reliable: 2, gaps_m: [[300, 330]], crest: () => 6.2 },
});

describe("depthSounding", () => {
  it("gives the nearest station's layers with their 80 % bounds", () => {
    const { value } = depthSounding(given, 100.9);
    expect(value).toMatchObject({ chainage_m: 100, asked_m: 100.9, crestElevation_m: 6.2 });
    expect([...value.top_m]).toEqual([0, 1, 2.5]);
    for (const [j, ohm_m] of value.resistivity_ohm_m.entries()) {
      expectClose(Math.log10(ohm_m), given.log10Resistivity[j]![50]!, { absolute: 1e-12 });
      // A Gaussian has a tenth on either side beyond 1.2815515655446 deviations.
      const half = 1.2815515655446 * 0.02;
      expectClose(Math.log10(value.p90_ohm_m[j]! / ohm_m), half, { absolute: 1e-12 });
      expectClose(Math.log10(ohm_m / value.p10_ohm_m[j]!), half, { absolute: 1e-12 });
    }
    expect([...value.learned]).toEqual([0.9, 0.9, 0.9]);
  });

  it("passes over a gap to the next estimate, the earlier of two, and says how far that is", () => {
    const inGap = depthSounding(given, 304);
    expect(inGap.value.chainage_m).toBe(298);
    expect(inGap.cautions.map(({ text }) => text).join(" ")).toContain("6 m away, at 298 m");
    expect(depthSounding(given, 315).value.chainage_m).toBe(298);
    expect(depthSounding(given, 316).value.chainage_m).toBe(332);
  });

  it("looks deeper with the coils flat than upright, and only where coils are known", () => {
    const { channels } = depthSounding(given, 100).value;
    const depth = (name: string) => channels.find((one) => one.name === name)!.median_m;
    expect(depth("HCP quadrature, 4 kHz")).toBeGreaterThan(depth("VCP quadrature, 4 kHz"));
    const plain = depthSounding(makeDepthSlices(), 100);
    expect(plain.value.channels).toEqual([]);
    expect(plain.cautions.some(({ text }) => text.includes("is not shown"))).toBe(true);
  });

  it("sets the nearest borehole beside it if it is near enough", () => {
    const boreholes = [far, borehole];
    expect(depthSounding(given, 100, { boreholes }).value.borehole?.borehole).toBe("BH3");
    expect(depthSounding(given, 100, { boreholes, boreholeWithin_m: 2 }).value.borehole).toBeNull();
    const soils = depthSounding(given, 100, { boreholes }).tables[0]!.rows.map(({ soil }) => soil);
    expect(soils).toEqual(["siCl", "Sa", "Sa"]);
  });

  it("says what it finds as title and summary, and where nothing is resolved says that", () => {
    const { figures, summary } = depthSounding(given, 100);
    expect(figures[0]!.title).toMatch(
      /^At 100 m: (19|20|21) ohm-m down to 1\.0 m, then (7\d|8\d) ohm-m down to 2\.5 m, known to a factor of 1\.1$/,
    );
    expect(summary).toBe(`${figures[0]!.title}.`);
    const none = depthSounding(makeFittedSlices({ reliable: 0 }), 100);
    expect(none.figures[0]!.title).toBe("At 100 m the readings resolve no depth");
  });

  it("draws a valid figure whose texts keep apart, with a borehole and without", async () => {
    for (const boreholes of [[borehole], []]) {
      const [figure] = depthSounding(given, 100, { boreholes }).figures;
      expectValidSpec(figure!.spec);
      const svg = await expectDraws(figure!.spec);
      expect(meetingTexts(svg)).toEqual([]);
      expect(svg).toMatch(/>reliable<\/tspan>.*>to 2\.5 m<\/tspan>/);
      expect(svg.includes(">medium SAND</text>")).toBe(boreholes.length > 0);
      expect(figure!.caption.includes("Diamonds")).toBe(boreholes.length > 0);
    }
  });

  it("names every fault at once", () => {
    const nowhere = { ...given, gap: given.gap.map(() => "set aside" as const) };
    const bad = { boreholeWithin_m: Number.NaN, near: 3 };
    const faults = faultsOf(() => depthSounding(nowhere, 2000, bad));
    expect(faults.map(({ code, path }) => [code, path])).toEqual([
      ["option-range", "options.boreholeWithin_m"],
      ["option-unknown", "options.near"],
      ["option-range", "chainage_m"],
      ["no-estimate", "slices"],
    ]);
    expect(() => depthSounding(given, Number.NaN)).toThrow(
      "depthSounding: chainage_m must be within the line, -1 to 799 m, got NaN",
    );
  });
});

function faultsOf(run: () => unknown) {
  try {
    run();
  } catch (error) {
    if (error instanceof StepError) return error.faults;
    throw error;
  }
  return [];
}
