import { describe, expect, it } from "vitest";
import { confidenceAt, sectionCells } from "../../../../lib/depth/views/section/section-cells.js";
import { expectClose } from "../../../support/expect-close.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

/** Slices 0–1, 1–2.5 and 2.5–5 m of which the first two are reliable, set aside at 300–330 m. */
const given = (more: Parameters<typeof makeFittedSlices>[0] = {}) =>
  makeFittedSlices({ reliable: 2, gaps_m: [[300, 330]], texture: 0, ...more });

describe("sectionCells", () => {
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
    // Spread over the prior's sqrt(1 − learned): 0.4 is under 0.45, 0.65 halfway to 0.85, 0.9 over
    // it.
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
