import { describe, expect, it } from "vitest";
import { siteBoreholes } from "../../../lib/boreholes/siting/site-boreholes.js";
import type { SeepageZone } from "../../../lib/seepage/seepage.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";
import { smallSurvey } from "../../support/small-survey.js";
import { block, blocks, hole, slices, surveyWith } from "../support/small-bank.js";

const zone: SeepageZone = {
  ...{ rank: 1, from_m: 600, to_m: 660, score: 1, probability: 0.7, band: "high" },
  ...{ evidence: [], exitGradient: null, gradientWhy: "", hydraulics: null },
  ...{ rankRange: [1, 1], bandKept: 1 },
};
const evidence = { survey: surveyWith([]), slices, blocks };
const note = (from_m: number, to_m: number) => ({
  ...{ row: 1, kind: "structure", object: "culvert", from_m, to_m, offset_m: null },
  ...{ time_s: null, campaign: null, text: "" },
});

describe("siteBoreholes", () => {
  it("puts a hole into every block first, near their middles", () => {
    const { holes } = siteBoreholes(evidence, { holes: 2 }).value;
    expect(holes.map(({ purpose }) => purpose).sort()).toEqual([
      "ground of block B1 (class A)",
      "ground of block B2 (class B)",
    ]);
    for (const { chainage_m } of holes) {
      expect(Math.abs((chainage_m % 400) - 200)).toBeLessThan(80);
    }
  });

  it("drills where no borehole is yet", () => {
    const survey = surveyWith([hole(200)]);
    const { holes } = siteBoreholes({ ...evidence, survey }, { holes: 1 }).value;
    expect(holes[0]?.chainage_m).toBeGreaterThan(420);
    expect(holes[0]?.reason).toContain("No borehole has met block B2");
  });

  it("goes through the bank into the natural ground, and as deep as the bank is high at the toe", () => {
    const seepage = { zones: [{ ...zone, probability: 0.99 }] };
    const { holes } = siteBoreholes({ ...evidence, seepage }, { holes: 5 }).value;
    const crest = holes.filter(({ place }) => place === "crest");
    const toe = holes.find(({ place }) => place === "landside toe");
    // 3.8 m of bank and 3 m below it, to the next half metre.
    for (const { depth_m } of crest) expect(depth_m).toBe(7);
    expect(toe?.depth_m).toBe(4);
    // Half the crest, the slope of 1:2.5 over 3.8 m and 1 m; water lies left, so land is right.
    expectClose(toe?.offset_m ?? Number.NaN, -(2 + 2.5 * 3.8 + 1), { absolute: 1e-9 });
    expect(toe?.reason).toContain("blanket");
    expect(toe?.chainage_m).toBeGreaterThan(600);
    expect(toe?.chainage_m).toBeLessThan(660);
  });

  it("keeps away from noted structures, noted metal and what was set aside", () => {
    const survey = smallSurvey({ fieldNotes: [note(150, 250) as never] });
    const interference = [{ from_m: 560, to_m: 640, object: "" }];
    const masked = [{ interference, unexplained: [] }] as never;
    const { holes, avoided } = siteBoreholes(
      { ...evidence, survey, masked },
      { holes: 6, clear_m: 20 },
    ).value;
    expect(holes.length).toBe(6);
    for (const { chainage_m } of holes) {
      expect(chainage_m < 130 || chainage_m > 270).toBe(true);
      expect(chainage_m < 540 || chainage_m > 660).toBe(true);
    }
    expect(avoided.map(({ from_m, to_m }) => [from_m, to_m])).toEqual([
      [130, 270],
      [540, 660],
    ]);
  });

  it("keeps to its budget of metres, and equal spacing takes as many", () => {
    const { metres, equal, holes } = siteBoreholes(evidence, { holes: null, metres: 24 }).value;
    expect(metres).toBeLessThanOrEqual(24);
    expect(holes.length).toBe(3);
    expectClose(equal.metres, metres, { absolute: 1e-9 });
    const drilled = equal.holes.reduce((sum, { depth_m }) => sum + depth_m, 0);
    expectClose(drilled, metres, { absolute: 1e-9 });
  });

  it("settles no less than equal spacing, part by part in sum", () => {
    const { settles_m, before_m, equal, parts } = siteBoreholes(evidence, { holes: 4 }).value;
    expect(settles_m).toBeGreaterThanOrEqual(equal.settles_m);
    expect(before_m).toBe(0);
    const sum = parts.reduce((total, { plan_m }) => total + plan_m, 0);
    expectClose(sum, settles_m, { absolute: 1e-6 });
    for (const part of parts) expect(part.plan_m).toBeLessThanOrEqual(part.all_m + 1e-9);
  });

  it("says by priority what each adds, the first the most", () => {
    const { holes } = siteBoreholes(evidence, { holes: 4 }).value;
    expect(holes.map(({ id }) => id)).toEqual(["P1", "P2", "P3", "P4"]);
    const adds = holes.map(({ adds_m }) => adds_m);
    expect(adds).toEqual([...adds].sort((one, other) => other - one));
    for (const { keptIn, plansTried } of holes) {
      expect(plansTried).toBe(12);
      expect(keptIn).toBeLessThanOrEqual(plansTried);
    }
  });

  it("looks for an unsure boundary where that is what counts", () => {
    const wide = block("B2", 400, 800, "B");
    const doubtful = { ...wide, fromInterval_m: [340, 460] as const };
    const cut = { ...blocks, blocks: [blocks.blocks[0]!, doubtful] };
    const weights = { soil: 0, block: 0, class: 0, boundary: 1, seepage: 0, change: 0 };
    const { holes, refused } = siteBoreholes({ ...evidence, blocks: cut }, { weights }).value;
    expect(refused).toBeNull();
    expect(holes.length).toBe(1);
    expect(holes[0]?.purpose).toBe("boundary B1–B2");
    expect(holes[0]?.reason).toContain("90 % sure and lies from 340 to 460 m");
  });

  it("proposes none where no place is feasible, and says so", () => {
    const survey = smallSurvey({ fieldNotes: [note(0, 800) as never] });
    const { value, summary } = siteBoreholes({ ...evidence, survey });
    expect(value.holes).toEqual([]);
    expect(value.refused).toContain("no place along the line is far enough");
    expect(summary).toContain("No borehole is proposed");
    const poor = siteBoreholes(evidence, { holes: null, metres: 2 }).value;
    expect(poor.refused).toContain("the least hole takes 7.0 m, and the budget is 2 m");
  });

  it("does without blocks, zones and a cross-section, and says what that costs", () => {
    const none = { crestWidth_m: null, crestElevation_m: null, foundationElevation_m: null };
    const section = { ...none, watersideSlope: null, landsideSlope: null };
    const survey = smallSurvey({ crossSectionAt: () => section });
    const { value, cautions } = siteBoreholes({ survey, slices, seepage: { zones: [zone] } });
    expect(value.holes.length).toBe(5);
    // The slices' reliable depth, 5 m, exceeds the least depth of 3 m.
    for (const { depth_m, place } of value.holes) expect([depth_m, place]).toEqual([5, "crest"]);
    const texts = cautions.map(({ text }) => text).join(" ");
    expect(texts).toContain("The bank's height is not known");
    expect(texts).toContain("The landside toe cannot be placed");
    expect(texts).toContain("licensed engineer");
    expect(texts).toContain("buried services");
    expect(texts).toContain("plan to seal");
  });

  it("takes what interpret gives, the slices of the blocks' campaign among several", () => {
    const other = { ...slices, campaign: "2032-03" };
    const one = siteBoreholes({ ...evidence, slices: [other, slices] }).value;
    expect(one).toEqual(siteBoreholes(evidence).value);
  });

  it("names faults of its options, and asks for a budget", () => {
    expectFault(
      () => siteBoreholes(evidence, { holes: null }),
      "option-value options.holes must be a number where options.metres is null, got null",
    );
    expectFault(
      () => siteBoreholes(evidence, { clear_m: -1 }),
      "option-range options.clear_m must be a number at least 0 m, got -1",
    );
  });

  it("gives the same plan again", () => {
    const { holes } = siteBoreholes(
      { ...evidence, seepage: { zones: [zone] } },
      { holes: 3 },
    ).value;
    const again = siteBoreholes({ ...evidence, seepage: { zones: [zone] } }, { holes: 3 }).value;
    expect(again.holes).toEqual(holes);
  });
});
