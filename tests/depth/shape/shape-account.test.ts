import { describe, expect, it } from "vitest";
import { gatherStations } from "../../../lib/depth/data/gather-stations.js";
import { shapeCautions } from "../../../lib/depth/shape/account.js";
import { withShape } from "../../../lib/depth/shape/shape-in-slices.js";
import type { CrossSectionProfile } from "../../../lib/survey/survey.js";
import { campaignOf, channelOf } from "../../support/campaign.js";
import { crossSectionOf as one, SECTION } from "../../support/cross-sections.js";

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
