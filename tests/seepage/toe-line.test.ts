import { describe, expect, it } from "vitest";
import { type LandsideLine, landsideLine } from "../../lib/seepage/toe-line.js";
import type { Survey } from "../../lib/survey/survey.js";
import { makeDepthSlices } from "../support/depth-slices.js";

const toe: LandsideLine = { line: "toe", offset_m: -14, slices: makeDepthSlices() };

describe("the line that stands for the toe", () => {
  const survey = (waterside: Survey["waterside"]) =>
    ({
      waterside,
      centreline: { chainage_m: Float64Array.of(0, 100) },
      crossSectionAt: () => ({ crestWidth_m: 4 }),
    }) as unknown as Survey;
  const line = (offset_m: number): LandsideLine => ({ ...toe, offset_m });

  it("is the nearest on the landside, beyond the crest", () => {
    const lines = [line(-25), line(-14), line(14), line(1.5)];
    expect(landsideLine(survey("left"), lines)?.offset_m).toBe(-14);
    expect(landsideLine(survey("right"), lines)?.offset_m).toBe(14);
  });

  it("is none where only the waterside was walked, and any side where that is not known", () => {
    expect(landsideLine(survey("right"), [line(-14)])).toBeNull();
    expect(landsideLine(survey(null), [line(-14)])?.offset_m).toBe(-14);
    expect(landsideLine(survey(null), [])).toBeNull();
  });
});
