import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { theilSen } from "../../../lib/numerics/statistics/theil-sen.js";
import { nileFlow } from "../../blocks/cut/nile.js";
import { expectClose } from "../../support/expect-close.js";
import { seriesByHand } from "../../support/series-by-hand.js";

const numbers = (n: number) => Array.from({ length: n }, (_, i) => i);

describe("theilSen", () => {
  it("gives the slopes of the worked example and of the Nile", () => {
    expectClose(theilSen(numbers(14), seriesByHand).slope, 0.5666667, { absolute: 5e-8 });
    expectClose(theilSen(numbers(100), nileFlow).slope, -2.6, { absolute: 1e-12 });
  });

  it("bounds five values by the extreme pair slopes at 98 % and four at 91 %, three by nothing", () => {
    const y = [0, 1, 3, 2, 5];
    // Pair slopes by hand: −1, 0.5, 1, 1, 1, 1, 1.25, 1.333, 1.5, 2, 3 less the eleventh: ten
    // pairs.
    const { interval } = theilSen(numbers(5), y, { level: 0.98 });
    expect(interval).toEqual([-1, 3]);
    expect(theilSen(numbers(4), y.slice(0, 4), { level: 0.9 }).interval).toEqual([-1, 2]);
    expect(theilSen(numbers(3), y.slice(0, 3), { level: 0.9 }).interval).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
  });

  it("holds the true slope at least as often as it says, for few and for many values", () => {
    const random = seededRandom(11);
    for (const [n, runs] of [
      [6, 600],
      [30, 300],
    ] as const) {
      let held = 0;
      for (let run = 0; run < runs; run++) {
        const y = numbers(n).map((i) => 0.3 * i + random.normal());
        const [lo, hi] = theilSen(numbers(n), y).interval;
        if (lo <= 0.3 && hi >= 0.3) held++;
      }
      // 90 % or a little more (whole ranks); three binomial errors at 300 runs are 5 %.
      expect(held / runs, `${n} values`).toBeGreaterThanOrEqual(0.86);
      expect(held / runs, `${n} values`).toBeLessThanOrEqual(0.99);
    }
  });

  it("is not moved by a wild value, and leaves out missing ones and repeats of x", () => {
    const y = numbers(15).map((i) => 2 * i + 1);
    y[7] = 1000;
    expectClose(theilSen(numbers(15), y).slope, 2, { absolute: 1e-12 });
    expectClose(theilSen([0, 0, 1, 2, Number.NaN], [1, 1, 3, 5, 99]).slope, 2, { absolute: 1e-12 });
    expect(theilSen([1], [1]).slope).toBeNaN();
  });

  it("refuses rows of two lengths and a level that is no probability", () => {
    expect(() => theilSen([1, 2], [1])).toThrow("y must be 2 values, as many as x, got 1");
    expect(() => theilSen([1], [1], { level: 1 })).toThrow(
      "options.level must be a number over 0 and under 1, got 1",
    );
  });
});
