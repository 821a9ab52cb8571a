import { describe, expect, it } from "vitest";
import { type LandsideLine, landsideLine, toeContrast } from "../../lib/seepage/toe-contrast.js";
import type { Survey } from "../../lib/survey/survey.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { expectClose } from "../support/expect-close.js";

/** A toe of 50 ohm-m with 200 ohm-m in the upper slice from 300 to 360 m. */
const slices = makeDepthSlices({
  texture: 0,
  sd: 0.05,
  truth: (x, slice) => (slice === 0 && x >= 300 && x < 360 ? 2.3 : 1.7),
});
const toe: LandsideLine = { line: "toe", offset_m: -14, slices };
const at = (chainage_m: number[]) => ({ chainage_m: Float64Array.from(chainage_m), half_m: 2.5 });

describe("contrast at the toe", () => {
  it("is likely where the toe is more resistive than along half of its line", () => {
    const cells = at(Array.from({ length: 160 }, (_, i) => 5 * i));
    const { value, statement } = toeContrast(cells, toe, 1.5);
    expectClose(value[66]!, 1, { absolute: 1e-6 });
    expect(value[20]!).toBeLessThan(0.01);
    expect(statement(0.8, 0, 5)).toBe(
      "80 % likely that the ground along the line toe is at least 1.5 times as resistive here as " +
        "along half of that line.",
    );
  });

  it("is unknown where the toe has no estimate, which is not absent", () => {
    const gap = makeDepthSlices({ gaps_m: [[300, 360]] });
    const cells = at(Array.from({ length: 160 }, (_, i) => 5 * i));
    const { value } = toeContrast(cells, { ...toe, slices: gap }, 1.5);
    expect(value[66]).toBeNaN();
  });
});

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
