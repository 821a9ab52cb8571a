import { describe, expect, it } from "vitest";
import { kendallTail, mannKendall } from "../../../lib/numerics/statistics/mann-kendall.js";
import { nileFlow } from "../../blocks/cut/nile.js";
import { expectClose } from "../../support/expect-close.js";
import { seriesByHand } from "../../support/series-by-hand.js";

const numbers = (n: number) => Array.from({ length: n }, (_, i) => i);

describe("mannKendall", () => {
  it("gives S and Z of the worked example, one tie included", () => {
    const { S, Z, variance } = mannKendall(seriesByHand);
    expect(S).toBe(54);
    // (14 × 13 × 33 − 2 × 1 × 9) / 18 by hand.
    expectClose(variance, 332.6666666667, { relative: 1e-11 });
    // Published to four decimals.
    expectClose(Z, 2.9058, { absolute: 5e-5 });
  });

  it("gives S and Z of the Nile at Aswan, ties included", () => {
    const { S, Z, n } = mannKendall(nileFlow);
    expect([S, n]).toEqual([-1387, 100]);
    expectClose(Z, -4.12807, { absolute: 5e-6 });
  });

  it("has the exact p-value for few values: 2 of n! orders for a row that only rises", () => {
    // By hand: four campaigns can never reach 5 %, five can.
    expectClose(mannKendall([1, 2, 3, 4]).p, 2 / 24, { relative: 1e-12 });
    expectClose(mannKendall([5, 4, 3, 2, 1]).p, 2 / 120, { relative: 1e-12 });
    // Kendall 1975, table 1: n = 4, S = 4: 0.167; n = 5, S = 8: 0.042; n = 8, S = 16: 0.031.
    expectClose(kendallTail(4, 4), 0.167, { absolute: 5e-4 });
    expectClose(kendallTail(5, 8), 0.042, { absolute: 5e-4 });
    expectClose(kendallTail(8, 16), 0.031, { absolute: 5e-4 });
  });

  it("counts every order of six values like brute force", () => {
    const counts = new Map<number, number>();
    for (const order of permutations(6)) {
      const { S } = mannKendall(order);
      counts.set(S, (counts.get(S) ?? 0) + 1);
    }
    for (let s = -15; s <= 15; s += 2) {
      const direct = [...counts].reduce((sum, [S, count]) => sum + (S >= s ? count : 0), 0) / 720;
      expectClose(kendallTail(6, s), direct, { absolute: 1e-12 });
    }
  });

  it("ignores missing values, and says nothing of too few or of constant ones", () => {
    expect(mannKendall([1, Number.NaN, 2, 3, 4])).toEqual(mannKendall([1, 2, 3, 4]));
    expect(mannKendall([7, 7, 7, 7, 7]).p).toBe(1);
    expect(mannKendall([1, 2]).p).toBe(1);
    expect(mannKendall([]).p).toBe(1);
  });

  it("turns about with the order and does not see the unit", () => {
    const back = mannKendall([...seriesByHand].reverse());
    expect([back.S, back.p]).toEqual([-54, mannKendall(seriesByHand).p]);
    expect(mannKendall(seriesByHand.map((v) => Math.exp(v))).S).toBe(54);
  });

  it("refuses an inflation that is not over 0", () => {
    expect(() => mannKendall([1, 2], { inflation: 0 })).toThrow(
      "options.inflation must be a number over 0, got 0",
    );
  });
});

function permutations(n: number): number[][] {
  if (n === 1) return [[0]];
  return permutations(n - 1).flatMap((row) =>
    numbers(n).map((at) => [...row.slice(0, at), n - 1, ...row.slice(at)]),
  );
}
