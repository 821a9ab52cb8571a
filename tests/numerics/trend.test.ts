// Mann-Kendall, Theil-Sen and Pettitt against published examples, brute force and simulation.
import { describe, expect, it } from "vitest";
import { kendallTail, mannKendall } from "../../lib/numerics/mann-kendall.js";
import { pettitt } from "../../lib/numerics/pettitt.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { serialInflation } from "../../lib/numerics/serial-inflation.js";
import { studentPoint, studentTwoSided } from "../../lib/numerics/student.js";
import { theilSen } from "../../lib/numerics/theil-sen.js";
import { nileFlow } from "../blocks/cut/nile.js";
import { expectClose } from "../support/expect-close.js";

// A worked example of Mann-Kendall by hand; S, Z and Sen's slope published and calculated again.
const byHand = [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7];
const numbers = (n: number) => Array.from({ length: n }, (_, i) => i);

describe("mannKendall", () => {
  it("gives S and Z of the worked example, one tie included", () => {
    const { S, Z, variance } = mannKendall(byHand);
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
    const back = mannKendall([...byHand].reverse());
    expect([back.S, back.p]).toEqual([-54, mannKendall(byHand).p]);
    expect(mannKendall(byHand.map((v) => Math.exp(v))).S).toBe(54);
  });

  it("with the serial correction, calls at most 10 % of alike but trendless series a trend", () => {
    const random = seededRandom(7);
    let plain = 0;
    let corrected = 0;
    for (let run = 0; run < 400; run++) {
      let value = random.normal();
      const series = numbers(60).map(() => {
        value = 0.6 * value + 0.8 * random.normal();
        return value;
      });
      if (mannKendall(series).p < 0.05) plain++;
      if (mannKendall(series, { inflation: serialInflation(series) }).p < 0.05) corrected++;
    }
    // Seen with this seed: 8 % with the correction, 33 % without. A correlation of 0.6 leaves
    // sixty values worth about seventeen, so the nominal 5 % is not quite reached.
    expect(corrected).toBeLessThanOrEqual(40);
    expect(plain).toBeGreaterThan(2 * corrected);
  });

  it("corrects nothing in a series of independent values or of under ten", () => {
    const random = seededRandom(3);
    const inflations = numbers(50).map(() =>
      serialInflation(numbers(40).map(() => random.normal())),
    );
    // About one lag in twenty passes by chance; most of those are small.
    expect(inflations.filter((value) => value > 1.5).length).toBeLessThanOrEqual(10);
    expect(serialInflation([1, 2, 3, 4, 5, 6, 7, 8, 9])).toBe(1);
  });
});

describe("theilSen", () => {
  it("gives the slopes of the worked example and of the Nile", () => {
    expectClose(theilSen(numbers(14), byHand).slope, 0.5666667, { absolute: 5e-8 });
    expectClose(theilSen(numbers(100), nileFlow).slope, -2.6, { absolute: 1e-12 });
  });

  it("bounds five values by the extreme pair slopes at 98 % and four at 91 %, three by nothing", () => {
    const y = [0, 1, 3, 2, 5];
    // Pair slopes by hand: −1, 0.5, 1, 1, 1, 1, 1.25, 1.333, 1.5, 2, 3 less the eleventh: ten pairs.
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
});

describe("pettitt", () => {
  it("finds the break of the Nile after 1898", () => {
    const found = pettitt(nileFlow);
    expect([found.K, found.at]).toEqual([1617, 28]);
    // 2 exp(−6 × 1617² / (100³ + 100²)) by hand.
    expectClose(found.p, 3.59e-7, { relative: 0.01 });
  });

  it("equals the double sum of its definition", () => {
    const random = seededRandom(5);
    for (let run = 0; run < 20; run++) {
      const x = numbers(12).map(() => Math.round(3 * random.normal()));
      let K = 0;
      for (let t = 1; t < 12; t++) {
        let U = 0;
        for (let i = 0; i < t; i++) for (let j = t; j < 12; j++) U += Math.sign(x[i]! - x[j]!);
        K = Math.max(K, Math.abs(U));
      }
      expect(pettitt(x).K).toBe(K);
    }
    expect(pettitt([4]).p).toBe(1);
  });
});

describe("the tests of a series", () => {
  it("refuse what they cannot take, and say what", () => {
    const refusals: readonly (readonly [() => unknown, string])[] = [
      [
        () => mannKendall([1, 2], { inflation: 0 }),
        "options.inflation must be a number over 0, got 0",
      ],
      [() => theilSen([1, 2], [1]), "y must be 2 values, as many as x, got 1"],
      [
        () => theilSen([1], [1], { level: 1 }),
        "options.level must be a number over 0 and under 1, got 1",
      ],
      [() => pettitt([1, Number.NaN]), "values[1] must be a number, got NaN"],
    ];
    for (const [call, text] of refusals) expect(call).toThrow(text);
  });
});

describe("studentTwoSided and studentPoint", () => {
  it("give the table of Student's t", () => {
    // Abramowitz & Stegun 1964, table 26.10, two-sided 10 %, 5 % and 1 %.
    expectClose(studentPoint(0.1, 1), 6.314, { absolute: 5e-4 });
    expectClose(studentPoint(0.05, 2), 4.303, { absolute: 5e-4 });
    expectClose(studentPoint(0.01, 5), 4.032, { absolute: 5e-4 });
    expectClose(studentPoint(0.1, 30), 1.697, { absolute: 5e-4 });
    expectClose(studentTwoSided(12.706204736432095, 1), 0.05, { relative: 1e-9 });
    expect(studentTwoSided(Number.NaN, 3)).toBeNaN();
    expect(studentTwoSided(0, 4)).toBe(1);
    expect(() => studentTwoSided(1, 0)).toThrow("dof must be a whole number of 1 or above, got 0");
  });
});

function permutations(n: number): number[][] {
  if (n === 1) return [[0]];
  return permutations(n - 1).flatMap((row) =>
    numbers(n).map((at) => [...row.slice(0, at), n - 1, ...row.slice(at)]),
  );
}
