import { describe, expect, it } from "vitest";
import { confidenceAt, sectionCells } from "../../../../lib/depth/views/section/section-cells.js";
import { sectionFigure } from "../../../../lib/depth/views/section/section-figure.js";
import { sectionFinding } from "../../../../lib/depth/views/section/section-finding.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { meetingTexts } from "../../../figures/support/text-boxes.js";
import { expectClose } from "../../../support/expect-close.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

/** Slices 0–1, 1–2.5 and 2.5–5 m of which the first two are reliable, set aside at 300–330 m. */
const given = (more: Parameters<typeof makeFittedSlices>[0] = {}) =>
  makeFittedSlices({ reliable: 2, gaps_m: [[300, 330]], texture: 0, ...more });

describe("the cells of a section", () => {
  it("are blank where there is no estimate, to the station", () => {
    const cells = sectionCells(given());
    const inGap = cells.filter(({ from_m, to_m }) => to_m > 299 && from_m < 331);
    expect(inGap).toEqual([]);
    expect(cells.some(({ to_m }) => to_m === 299)).toBe(true);
    expect(cells.some(({ from_m }) => from_m === 331)).toBe(true);
  });

  it("stay blank at a single station where many share a column", () => {
    const long = given({ stations: 8000, gaps_m: [[5000, 5000]] });
    const at = sectionCells(long).filter(({ from_m, to_m }) => from_m < 5000.5 && to_m > 4999.5);
    expect(at).toEqual([]);
  });

  it("fade by their spread over the prior's, and everywhere below the reliable depth", () => {
    // Spread over the prior's sqrt(1 − learned): 0.4 is under 0.45, 0.65 halfway to 0.85, 0.9 over it.
    expect(confidenceAt(1 - 0.4 ** 2, 1, 2.5)).toBe(1);
    expectClose(confidenceAt(1 - 0.65 ** 2, 1, 2.5), 0.5, { absolute: 1e-12 });
    expect(confidenceAt(1 - 0.9 ** 2, 1, 2.5)).toBe(0);
    expect(confidenceAt(1 - 0.4 ** 2, 3, 2.5)).toBe(0.3);
    const cells = sectionCells(given());
    for (const { top_m, base_m, confidence } of cells) {
      expect(confidence).toBe(top_m < 2.5 ? 1 : 0.3);
      expect(base_m).toBeLessThanOrEqual(1.5 * 2.5);
    }
  });

  it("are cut in two where the reliable depth ends within a layer", () => {
    const cells = sectionCells({ ...given(), reliableTo_m: 2 });
    const depths = new Set(cells.map(({ top_m, base_m }) => `${top_m} ${base_m}`));
    expect([...depths]).toEqual(["0 1", "1 2", "2 2.5", "2.5 3"]);
  });
});

describe("what a section finds", () => {
  it("names the extremes down to the reliable depth, and where they lie", () => {
    const truth = (x: number, slice: number) => (slice === 2 ? 3 : x < 200 ? 1.3 : 1.9);
    expect(sectionFinding(given({ truth, sd: 1e-3 }))).toMatch(
      /^Campaign 2031-10: down to 2\.5 m the ground runs from 20 ohm-m around (?:\d0|1\d0) m to (?:79|80) ohm-m around [2-8]\d0 m$/,
    );
  });

  it("says so where the ground is alike, and where nothing is resolved", () => {
    expect(sectionFinding(given())).toBe(
      "Campaign 2031-10: down to 2.5 m the ground has about 50 ohm-m all along",
    );
    expect(sectionFinding(given({ reliable: 0 }))).toBe(
      "Campaign 2031-10: the readings resolve no depth; the section shows the prior",
    );
  });
});

describe("the section's figure", () => {
  const gpsGaps = [
    { resource: "one", from_m: 100, to_m: 120, bridged: true },
    { resource: "two", from_m: 110, to_m: 128, bridged: true },
    { resource: "one", from_m: 300, to_m: 330, bridged: false },
  ];
  const full = given({ crest: (x) => 6 - x / 800 });
  const gap = full.gap.map((why) => (why === "" ? "" : "no readings"));

  it("is valid, keeps its texts apart, and tells elevations, exaggeration, fading and gaps", async () => {
    const { spec, title, caption } = sectionFigure({ ...full, gap, gpsGaps });
    expectValidSpec(spec);
    const svg = await expectDraws(spec);
    expect(meetingTexts(svg)).toEqual([]);
    const texts = [
      "Elevation (m above datum)",
      "no GPS",
      "placed by time",
      "left out",
      "not resolved",
    ];
    for (const text of texts) expect(svg).toContain(`>${text}</text>`);
    // 260 px for 6 − 1.0 m (crest) + 3.75 m, and 780 px for 800 m: 260/4.7475 over 780/800.
    expect(svg).toContain("heights drawn 56 times as large as lengths");
    expect(caption).toContain("crest at its elevation");
    expect(title).toContain("down to 2.5 m");
  });

  it("draws gaps of several walks as one bar, bridged and left out apart", () => {
    const { spec } = sectionFigure({ ...full, gap, gpsGaps });
    const views = (spec as unknown as { vconcat: { data: { values: Bar[] } }[] }).vconcat;
    expect(views[1]!.data.values.map(({ a, b, g, more }) => [a, b, g, more])).toEqual([
      [100, 128, "placed by time", "one, two"],
      [300, 330, "left out", "one"],
    ]);
  });

  it("hangs from depth without a crest, and has no bars without gaps", async () => {
    const { spec, caption } = sectionFigure(given());
    const svg = await expectDraws(spec);
    expect(svg).toContain(">Depth (m)</text>");
    expect(svg).toContain(">set aside</text>");
    expect(svg).not.toContain("GPS");
    expect(caption).toContain("the survey tells no elevations");
    expect(meetingTexts(svg)).toEqual([]);
  });

  it("stays small for 10,000 stations of ground that changes everywhere, under a crest that does", async () => {
    const truth = (x: number, slice: number) => 1.7 + 0.6 * Math.sin(x / (300 + 90 * slice));
    const crest = (x: number) => 6 + Math.sin(x / 700);
    const { spec } = sectionFigure(given({ stations: 10_000, truth, crest, texture: 0.1 }));
    expect(JSON.stringify(spec).length).toBeLessThan(300_000);
    expect((await expectDraws(spec)).length).toBeLessThan(1_200_000);
  });
});

interface Bar {
  readonly a: number;
  readonly b: number;
  readonly g: string;
  readonly more: string;
}
