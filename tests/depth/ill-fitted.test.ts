import { describe, expect, it } from "vitest";
import { illFitted, illFittedText } from "../../lib/depth/ill-fitted.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { makeDepthSlices } from "../support/depth-slices.js";

/** 400 stations 2 m apart; misfits of eight channels' noise, so many times larger in stretches. */
function line(times: (x: number) => number, seed = 1) {
  const random = seededRandom(seed);
  const made = makeDepthSlices({ gaps_m: [[500, 520]] });
  const misfit = made.chainage_m.map((x, i) => {
    const squares = Array.from({ length: 8 }, () => random.normal() ** 2);
    const rms = Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
    return made.gap[i] === "" ? rms * times(x) : Number.NaN;
  });
  return { ...made, misfit };
}

describe("illFitted", () => {
  it("finds where readings go with no layered ground, over gaps, to a station or few", () => {
    // The noise found from the line takes a part in: elsewhere the fit looks better than it is.
    const found = illFitted(
      line((x) => ((x >= 200 && x < 350) || (x >= 480 && x < 560) ? 4 : 0.6)),
    );
    expect(found).toHaveLength(2);
    expect(Math.abs(found[0]!.from_m - 200)).toBeLessThanOrEqual(6);
    expect(Math.abs(found[0]!.to_m - 348)).toBeLessThanOrEqual(6);
    expect(found[0]!.misfit).toBeGreaterThan(3);
    expect(found[1]!.to_m).toBeGreaterThan(540);
  });

  it("finds nothing on sound lines, short objects, or a line that fits badly all along", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      expect(illFitted(line(() => 1, seed))).toEqual([]);
      expect(illFitted(line((x) => (x >= 200 && x < 208 ? 9 : 0.8), seed))).toEqual([]);
      expect(illFitted(line(() => 3, seed))).toEqual([]);
    }
    expect(illFittedText(line(() => 1))).toBeNull();
  });

  it("says where, how badly, and what it may be", () => {
    expect(illFittedText(line((x) => (x >= 200 && x < 350 ? 4 : 0.6)))).toMatch(
      /^2031-10: no layered ground explains the readings at (19|20)\d–3[45]\d m \(misfit [34]\.\d\), .*mesh in a road/,
    );
  });
});
