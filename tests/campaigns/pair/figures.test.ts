import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../lib/campaigns/pair/compare-campaigns.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { makeDepthSlices } from "../../support/depth-slices.js";

const later = (changed: boolean) =>
  makeDepthSlices({
    seed: 2,
    campaign: "2032-03",
    time_s: Date.UTC(2032, 2, 20) / 1000,
    truth: (x) => (changed && x > 300 && x < 380 ? 1.4 : 1.7),
    gaps_m: [[500, 520]],
  });

describe("the figure of the changes", () => {
  it("is valid, draws without a warning, and shows changed and unknown stretches", async () => {
    const figure = compareCampaigns(makeDepthSlices(), later(true)).figures[0]!;
    expectValidSpec(figure.spec);
    const svg = await expectDraws(figure.spec);
    expect(svg).toContain("unknown");
    expect(svg).toContain("Ratio at 2.5–5.0 m depth");
    expect(figure.title).toMatch(/^Resistivity fell to 0\.\d\d times at \d+–\d+ m$/);
  });

  it("draws campaigns between which nothing changed", async () => {
    const figure = compareCampaigns(makeDepthSlices(), later(false)).figures[0]!;
    expect(figure.title).toBe("No stretch changed from 2031-10 to 2032-03");
    await expectDraws(figure.spec);
  });
});
