import { describe, expect, it } from "vitest";
import { seededRandom } from "../../lib/numerics/random.js";
import { expectClose } from "../support/expect-close.js";

const drawn = (count: number, draw: () => number) => Array.from({ length: count }, draw);
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;

describe("seededRandom", () => {
  it("gives the same row for the same seed and another row for another seed", () => {
    const first = drawn(50, seededRandom(42).uniform);
    expect(drawn(50, seededRandom(42).uniform)).toEqual(first);
    expect(drawn(50, seededRandom(43).uniform)).not.toEqual(first);
    expect(drawn(50, seededRandom(0.5).uniform)).not.toEqual(drawn(50, seededRandom(0).uniform));
  });

  it("draws uniform numbers in [0, 1) with the moments of the uniform distribution", () => {
    const values = drawn(100_000, seededRandom(1).uniform);
    expect(Math.min(...values.slice(0, 50_000))).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values.slice(0, 50_000))).toBeLessThan(1);
    // Five standard errors: sqrt(1/12/n) and sqrt(1/180/n).
    expectClose(mean(values), 0.5, { absolute: 0.0046 });
    expectClose(mean(values.map((x) => (x - 0.5) ** 2)), 1 / 12, { absolute: 0.0012 });
  });

  it("draws normal numbers with moments 0, 1, 0, 3", () => {
    const values = drawn(100_000, seededRandom(2).normal);
    // Five standard errors: 1/sqrt(n), sqrt(2/n), sqrt(15/n), sqrt(96/n).
    expectClose(mean(values), 0, { absolute: 0.0159 });
    expectClose(mean(values.map((x) => x ** 2)), 1, { absolute: 0.0224 });
    expectClose(mean(values.map((x) => x ** 3)), 0, { absolute: 0.0613 });
    expectClose(mean(values.map((x) => x ** 4)), 3, { absolute: 0.155 });
  });

  it("draws neighbouring numbers, and neighbouring seeds, without correlation", () => {
    const values = drawn(50_000, seededRandom(3).normal);
    const seeds = Array.from({ length: 50_000 }, (_, seed) => seededRandom(seed).normal());
    for (const row of [values, seeds]) {
      const products = row.slice(1).map((x, i) => x * (row[i] as number));
      expectClose(mean(products), 0, { absolute: 0.0224 });
    }
  });

  it("draws every whole number below n equally often", () => {
    const counts = [0, 0, 0, 0, 0, 0];
    const random = seededRandom(4);
    for (let i = 0; i < 60_000; i++) counts[random.integer(6)]! += 1;
    // Five standard deviations of a binomial count, sqrt(60000 · 5/36).
    for (const count of counts) expectClose(count, 10_000, { absolute: 457 });
  });

  it("refuses a seed that is not finite and a range that is empty", () => {
    expect(() => seededRandom(Number.NaN)).toThrow("seed must be a finite number, got NaN");
    expect(() => seededRandom(1).integer(0)).toThrow("n must be a whole number in 1 … 2^32, got 0");
  });
});
