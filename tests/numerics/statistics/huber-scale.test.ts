import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { huberScale } from "../../../lib/numerics/statistics/huber-scale.js";
import { normalTail } from "../../../lib/numerics/statistics/normal.js";
import { madScale } from "../../../lib/numerics/statistics/robust.js";
import { expectClose } from "../../support/expect-close.js";

describe("huberScale", () => {
  it("is the standard deviation of normal values, sharper than the median deviation", () => {
    const random = seededRandom(4);
    const [huber, mad]: [number[], number[]] = [[], []];
    for (let run = 0; run < 400; run++) {
      const values = Array.from({ length: 40 }, () => random.normal());
      huber.push(huberScale(values));
      mad.push(madScale(values));
    }
    const mean = huber.reduce((sum, v) => sum + v, 0) / 400;
    const spread = (all: number[]) =>
      Math.sqrt(all.reduce((sum, v) => sum + (v - 1) ** 2, 0) / all.length);
    // 1 less 1/(4 × 40) of bias; the mean of 400 has an error of 0.006.
    expectClose(mean, 1, { absolute: 0.025 });
    expect(spread(huber)).toBeLessThan(0.75 * spread(mad));
  });

  it("solves its own equation, with the constant of a normal variable", () => {
    const values = [0.3, -1.2, 0.8, 2.1, -0.4, 0.1, -0.9, 9];
    const s = huberScale(values);
    const clipped = values.reduce((sum, x) => sum + Math.min((x / s) ** 2, 6.25), 0) / 8;
    // E min(Z², c²) = (2Φ(c) − 1) − 2cφ(c) + 2c²(1 − Φ(c)) at c = 2.5.
    const density = Math.exp(-6.25 / 2) / Math.sqrt(2 * Math.PI);
    const constant = 1 - 2 * normalTail(2.5) - 5 * density + 12.5 * normalTail(2.5);
    expectClose(clipped, constant, { absolute: 1e-4 });
  });

  it("scales with the unit, leaves out missing values, and bears a wild one", () => {
    expectClose(huberScale([10, -20, 30]), 10 * huberScale([1, -2, 3]), { relative: 1e-9 });
    expect(huberScale([1, -2, Number.NaN, 3])).toBe(huberScale([1, -2, 3]));
    expect(huberScale([])).toBeNaN();
    expect(huberScale([0, 0, 0, 5])).toBe(0);
    const many = Array.from({ length: 50 }, (_, i) => (i % 2 === 0 ? 1 : -1));
    expect(huberScale([...many, 1000])).toBeLessThan(1.1);
  });
});
