import { describe, expect, it } from "vitest";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";
import { back, open, there } from "../support/opened.js";

describe("the time lag", () => {
  it("puts two passes in their places when taken out", async () => {
    const sketch: WalkSketch = { passes: [there, back], lag_s: 2, seed: 4, noise: 0.1 };
    const { value } = await open(sketch, { timeLag_s: 2 });
    const { lagged_m } = walkedSurvey(sketch);
    for (const [p, pass] of value.campaigns[0]!.passes.entries()) {
      const errors = lagged_m[p]!.slice(5, -5).map((x, i) => Math.abs(pass.chainage_m[i + 5]! - x));
      expect(Math.max(...errors)).toBeLessThan(0.6);
    }
  });

  it("is not made up where nothing tells it", async () => {
    const { tables, cautions } = await open(
      { passes: [there], seed: 6 },
      { timeLag_s: "estimate" },
    );
    expect(tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s).toBe(0);
    expect(cautions.some(({ text }) => text.includes("no time lag could be found"))).toBe(true);
    const noise = await open(
      { passes: [there, back], seed: 6, noise: 50 },
      { timeLag_s: "estimate" },
    );
    expect(noise.tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s).toBe(0);
  });
});
