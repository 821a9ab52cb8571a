import { describe, expect, it } from "vitest";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";
import { open, SEEDS } from "../support/opened.js";

describe("pegs", () => {
  const rows = [20, 120, 220, 320, 420];

  it("correct a chainage that is stretched by 1 %", async () => {
    // The pegs were set out by a tape that is 1 % short: they say 1.01 m for each metre.
    const pegs = rows.map((row) => ({ row, stretch: 1.01 }));
    for (const seed of SEEDS) {
      const sketch: WalkSketch = { seed, pegs, jitter_m: 0.1 };
      const { truth_m } = walkedSurvey(sketch);
      const worst = (result: Awaited<ReturnType<typeof open>>) => {
        const { chainage_m } = result.value.campaigns[0]!.passes[0]!;
        const off = truth_m[0]!.map((x, i) => Math.abs(chainage_m[i]! - 1.01 * x));
        return Math.max(...off.slice(20, 421));
      };
      const [checked, corrected] = [await open(sketch), await open(sketch, { pegs: "correct" })];
      expect(worst(checked)).toBeGreaterThan(4);
      expect(worst(corrected)).toBeLessThan(1);
      expect(
        checked.cautions.some(({ text }) => text.includes("differ from 5 pegs by up to 5.")),
      ).toBe(true);
      expect(checked.tables.find(({ id }) => id === "pegs")!.rows).toHaveLength(5);
    }
  });

  it("that agree give no caution, and a slip of the pen is not used", async () => {
    const agreeing = await open({ seed: 9, pegs: rows.map((row) => ({ row })) });
    expect(agreeing.cautions.some(({ text }) => text.includes("peg"))).toBe(false);
    const slip = { row: 120, stretch: 3 };
    const { cautions, value } = await open({ seed: 9, pegs: [slip] }, { pegs: "correct" });
    expect(cautions.some(({ text }) => text.includes("it is not believed"))).toBe(true);
    const plain = await open({ seed: 9 });
    expect(value.campaigns[0]!.passes[0]!.chainage_m).toEqual(
      plain.value.campaigns[0]!.passes[0]!.chainage_m,
    );
  });
});
