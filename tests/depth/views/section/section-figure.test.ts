import { describe, expect, it } from "vitest";
import { sectionFigure } from "../../../../lib/depth/views/section/section-figure.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";
import { meetingTexts } from "../../../figures/support/text-boxes.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

/** Slices 0–1, 1–2.5 and 2.5–5 m of which the first two are reliable, set aside at 300–330 m. */
const given = (more: Parameters<typeof makeFittedSlices>[0] = {}) =>
  makeFittedSlices({ reliable: 2, gaps_m: [[300, 330]], texture: 0, ...more });

describe("the section's figure", () => {
  const gpsGaps = [
    { resource: "one", from_m: 100, to_m: 120, bridged: true },
    { resource: "two", from_m: 110, to_m: 128, bridged: true },
    { resource: "one", from_m: 300, to_m: 330, bridged: false },
  ];
  const full = given({ crest: (x) => 6 - x / 800 });
  const gap = full.gap.map((why) => (why === "" ? "" : "no readings"));

  it("is valid, its texts apart, and shows elevations, exaggeration, fading and gaps", async () => {
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

  it("stays small for 10,000 stations of changing ground under a changing crest", async () => {
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
