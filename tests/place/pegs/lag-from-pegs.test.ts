import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import type { WalkSketch } from "../../survey/support/walked-survey.js";
import { back, open, there } from "../support/opened.js";

describe("lagFromPegs", () => {
  it("finds the lag from pegs passed both ways where the readings have none", async () => {
    const pegs = [80, 160, 240, 320].flatMap((row) => [
      { row, pass: 0 },
      { row, pass: 1 },
    ]);
    const sketch: WalkSketch = { passes: [there, back], gpsLate_s: 1.5, seed: 5, pegs, noise: 50 };
    const { tables, cautions } = await open(sketch, { timeLag_s: "estimate" });
    const found = tables.find(({ id }) => id === "positions")!.rows[0]!.lag_s as number;
    // Positions that are late make the readings look early.
    expectClose(found, -1.5, { absolute: 0.3 });
    expect(cautions.some(({ text }) => text.includes("from pegs"))).toBe(true);
  });
});
