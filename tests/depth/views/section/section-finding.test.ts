import { describe, expect, it } from "vitest";
import { sectionFinding } from "../../../../lib/depth/views/section/section-finding.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

/** Slices 0–1, 1–2.5 and 2.5–5 m of which the first two are reliable, set aside at 300–330 m. */
const given = (more: Parameters<typeof makeFittedSlices>[0] = {}) =>
  makeFittedSlices({ reliable: 2, gaps_m: [[300, 330]], texture: 0, ...more });

describe("sectionFinding", () => {
  it("names the extremes down to the reliable depth, and where they lie", () => {
    const truth = (x: number, slice: number) => (slice === 2 ? 3 : x < 200 ? 1.3 : 1.9);
    expect(sectionFinding(given({ truth, sd: 1e-3 }))).toMatch(
      /^Campaign 2031-10: down to 2\.5 m the ground runs from 20 ohm-m around (?:\d0|1\d0) m to (?:79|80) ohm-m around [2-8]\d0 m$/,
    );
  });

  it("says so where the ground is uniform, and where nothing is resolved", () => {
    expect(sectionFinding(given())).toBe(
      "Campaign 2031-10: down to 2.5 m the ground has about 50 ohm-m all along",
    );
    expect(sectionFinding(given({ reliable: 0 }))).toBe(
      "Campaign 2031-10: the readings resolve no depth; the section shows the prior",
    );
  });
});
