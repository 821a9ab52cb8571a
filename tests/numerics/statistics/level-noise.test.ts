import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { fitNoise, noiseAt } from "../../../lib/numerics/statistics/level-noise.js";
import { expectClose } from "../../support/expect-close.js";

function line(n: number, level: (i: number) => number, seed: number): Float64Array {
  const random = seededRandom(seed);
  return Float64Array.from({ length: n }, (_, i) => {
    return level(i) + Math.hypot(10, 0.02 * level(i)) * random.normal();
  });
}

describe("fitNoise", () => {
  it("finds a floor and a share where the level varies", () => {
    // 160 batches of 25: a batch's scale is known to 15 %, the line through them to a few percent.
    const { floor, share } = fitNoise(line(4000, (i) => (i < 2000 ? 50 : 3000), 1));
    expectClose(floor, 10, { relative: 0.1 });
    expectClose(share, 0.02, { relative: 0.1 });
  });

  it("is not spoiled by disturbed stretches and steps", () => {
    const values = line(2000, (i) => (i < 1000 ? 50 : 3000), 2);
    for (let i = 300; i < 340; i++) values[i]! += 4000 * (i % 3);
    const found = fitNoise(values);
    expectClose(noiseAt(found, 50), Math.hypot(10, 1), { relative: 0.2 });
    expectClose(noiseAt(found, 3000), Math.hypot(10, 60), { relative: 0.2 });
  });

  it("scales with the unit", () => {
    const values = line(500, () => 800, 3);
    const [one, other] = [fitNoise(values), fitNoise(values.map((v) => v / 1000))];
    expectClose(noiseAt(other, 0.8), noiseAt(one, 800) / 1000, { relative: 1e-6 });
  });

  it("is 0 for exact or missing values, and never 0 at a value", () => {
    expect(fitNoise(new Float64Array(100).fill(7))).toEqual({ floor: 0, share: 0 });
    expect(fitNoise(new Float64Array(100).fill(Number.NaN))).toEqual({ floor: 0, share: 0 });
    expect(noiseAt({ floor: 0, share: 0 }, 7)).toBeGreaterThan(0);
  });
});
