import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";
import { open } from "../support/opened.js";

describe("stepsBack", () => {
  it("recognises steps back and leaves their readings where they were made", async () => {
    const sketch: WalkSketch = { back: { row: 200, readings: 8 }, seed: 12, jitter_m: 0.1 };
    const { value, cautions, accounting } = await open(sketch);
    expect(accounting!.kept).toBe(500);
    expect(cautions.map(({ text }) => text).join()).toMatch(
      /1 stretch walked backwards, \d+ m in all/,
    );
    const { truth_m } = walkedSurvey(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    for (let i = 195; i < 220; i++) expectClose(chainage_m[i]!, truth_m[0]![i]!, { absolute: 1 });
  });
});
