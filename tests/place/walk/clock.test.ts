import { describe, expect, it } from "vitest";
import { walkedSurvey } from "../../survey/support/walked-survey.js";
import { openFolder } from "../support/opened.js";

describe("clockOf", () => {
  it("places readings without a time between those that have one", async () => {
    const sketch = walkedSurvey({ seed: 4, jitter_m: 0.1 });
    const lines = sketch.files["walk-1.csv"]!;
    for (let row = 50; row < 60; row++) lines[row] = lines[row]!.replace(/^[^,]*/, "");
    const { accounting, value } = await openFolder(sketch);
    expect(accounting!.kept).toBe(500);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    for (let i = 49; i < 59; i++) {
      expect(Math.abs(chainage_m[i]! - sketch.truth_m[0]![i]!)).toBeLessThan(0.6);
    }
  });
});
