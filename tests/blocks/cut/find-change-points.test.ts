import { describe, expect, it } from "vitest";
import { findChangePoints } from "../../../lib/blocks/cut/find-change-points.js";
import { differenceNoise } from "../../../lib/blocks/noise/difference-noise.js";
import { type Random, seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault, faultsOf } from "../../support/expect-fault.js";
import { type BruteForceCase, bruteForceCut, objective } from "./brute-force.js";
import { nileFlow } from "./nile.js";

const rounding = { relative: 1e-9, absolute: 1e-9 };

function randomCase(random: Random, samples: number): BruteForceCase {
  const d = 1 + random.integer(3);
  const level = Array.from({ length: samples }, () => 0);
  let mean = 0;
  for (let i = 0; i < samples; i++) {
    if (random.uniform() < 0.2) mean = 4 * random.normal();
    level[i] = mean;
  }
  const gap = random.uniform() < 0.5 ? 0.25 : 0;
  const columns = Array.from({ length: d }, () =>
    level.map((value) => (random.uniform() < gap ? Number.NaN : value + random.normal())),
  );
  return {
    columns,
    noise: Array.from({ length: d }, () => 0.5 + random.uniform()),
    penalty: random.uniform() < 0.4 ? "mbic" : 8 * random.uniform(),
    minLength: 1 + random.integer(5),
  };
}

describe("findChangePoints", () => {
  it("finds the optimum of brute force on 600 small inputs with gaps", () => {
    const random = seededRandom(20310418);
    for (let trial = 0; trial < 600; trial++) {
      const given = randomCase(random, 6 + random.integer(9));
      const expected = bruteForceCut(given);
      const { columns, ...options } = given;
      const found = findChangePoints(columns, options);
      expectClose(found.objective, expected.objective, rounding);
      expect(found.breaks).toEqual(expected.breaks);
    }
  });

  it("finds the optimum of an unpruned search on longer rows", () => {
    const random = seededRandom(7);
    for (let trial = 0; trial < 60; trial++) {
      const given = randomCase(random, 60 + random.integer(60));
      const { columns, ...options } = given;
      const found = findChangePoints(columns, options);
      expectClose(found.objective, unprunedOptimum(given), rounding);
      expectClose(objective(given, found.breaks), found.objective, rounding);
      const edges = [0, ...found.breaks, given.columns[0]!.length];
      for (let s = 1; s < edges.length; s++) {
        expect(edges[s]! - edges[s - 1]!).toBeGreaterThanOrEqual(given.minLength);
      }
    }
  });

  it.each(["mean", "mean and spread"] as const)(
    "drops no start that the best cut of a long row needs (change in %s)",
    (change) => {
      const random = seededRandom(change.length);
      for (let trial = 0; trial < 60; trial++) {
        const n = 80 + random.integer(500);
        const { columns, noise, minLength } = longCase(random, n);
        const penalty = trial % 3 === 0 ? ("mbic" as const) : 2 + 30 * random.uniform();
        const options = { penalty, noise, minLength: minLength + 2, change };
        const found = findChangePoints(columns, options);
        expectClose(found.objective, plainOptimum(columns, options), rounding);
      }
    },
  );

  // Nile flow, Cobb 1978: one break after observation 28; squares 2835156.8 → 1597457.2; σ from the
  // median absolute deviation of differences 115.319. Printed to 1 and 3 decimals: tolerances.
  it("breaks the Nile's flow after 1898, whichever usual penalty is taken", () => {
    expectClose(Math.sqrt(differenceNoise(nileFlow)), 115.319, { absolute: 5e-4 });
    for (const penalty of [2 * Math.log(100), 3 * Math.log(100), "mbic"] as const) {
      expect(findChangePoints([nileFlow], { penalty }).breaks).toEqual([28]);
    }
    const cut = findChangePoints([nileFlow], { penalty: 2 * Math.log(100), noise: [115.319 ** 2] });
    const expected = 1597457.2 / 115.319 ** 2 + 2 * Math.log(100);
    expectClose(cut.objective, expected, { absolute: 0.05 / 115.319 ** 2 });
  });

  it("has the published length term for one column", () => {
    const variance = 115.319 ** 2;
    const found = findChangePoints([nileFlow], { penalty: "mbic", noise: [variance] });
    // Zhang & Siegmund 2007: 3 m ln n + Σ ln(nᵢ / n), with 28 and 72 years; squares as above.
    const term = 3 * Math.log(100) + Math.log(0.28) + Math.log(0.72);
    expectClose(found.objective, 1597457.2 / variance + term, { absolute: 0.05 / variance });
  });

  // The least-squares cuts of the Nile with at least 15 years a segment, m = 0 … 4, computed
  // independently: 2835156.8 1597457.2 1552923.6 1538096.5 1507888.5. A price between the gains of
  // the m-th and the next break picks m where the gains fall; m = 2 is the lower hull's corner.
  it.each([
    [1300000, [], 2835156.8],
    [60000, [28], 1597457.2],
    [40000, [28, 83], 1552923.6],
    [10000, [28, 45, 68, 83], 1507888.5],
  ])("cuts the Nile at price %d into %j", (penalty, breaks, squares) => {
    const found = findChangePoints([nileFlow], { penalty, minLength: 15, noise: [1] });
    expect(found.breaks).toEqual(breaks);
    expectClose(found.objective - penalty * breaks.length, squares, { absolute: 0.06 });
  });

  it("gives the same cut in any unit and mirrored on the reversed row", () => {
    const random = seededRandom(11);
    for (let trial = 0; trial < 20; trial++) {
      const { columns, minLength } = randomCase(random, 80);
      const options = { penalty: "mbic", minLength } as const;
      const found = findChangePoints(columns, options);
      const scaled = columns.map((column) => column.map((value) => 250 * value + 3));
      expect(findChangePoints(scaled, options).breaks).toEqual(found.breaks);
      const whole = columns.map((column) => column.map((v) => (Number.isNaN(v) ? 0.3 : v)));
      const forward = findChangePoints(whole, options).breaks;
      const reversed = whole.map((column) => [...column].reverse());
      const back = findChangePoints(reversed, options).breaks.map((at) => 80 - at);
      expect(back.reverse()).toEqual(forward);
    }
  });

  it("lets a missing column and a missing stretch count for nothing", () => {
    const gap = [0, 1, 0, 1, Number.NaN, Number.NaN, 9, 8, 9, 8];
    const found = findChangePoints([gap, gap.map(() => Number.NaN)], { penalty: 4, noise: [1, 1] });
    expect(found).toEqual({ breaks: [4], objective: 6 });
    const empty = findChangePoints([[Number.NaN, Number.NaN]], { penalty: "mbic" });
    expect(empty).toEqual({ breaks: [], objective: 0 });
  });

  it("finds steps without noise, and leaves a constant row whole", () => {
    const steps = Array.from({ length: 90 }, (_, i) => Math.floor(i / 30));
    expect(findChangePoints([steps]).breaks).toEqual([30, 60]);
    expect(findChangePoints([steps.map(() => 2.5)]).breaks).toEqual([]);
  });

  it("changes nothing that it was given", () => {
    const columns = Object.freeze([Object.freeze([0, 1, 0, 1, 9, 8, 9, 8])]);
    const options = Object.freeze({ penalty: 4, minLength: 2, noise: Object.freeze([1]) });
    expect(findChangePoints(columns, options)).toEqual({ breaks: [4], objective: 6 });
  });

  it.each([
    [[], {}, "empty columns must be columns of at least one sample, got no column"],
    [[[]], {}, "empty columns must be columns of at least one sample, got an empty column"],
    [[[1, 2], [1]], {}, "column-length columns[1] must be 2 samples long, like columns[0], got 1"],
    [
      [[1, Infinity, -Infinity]],
      {},
      "value columns[0][1] must be a finite number, or NaN where missing, " +
        "got Infinity (2 such values)",
    ],
    [
      [[1]],
      { penalty: -1 },
      'option-range options.penalty must be a number at least 0, or "mbic", got -1',
    ],
    [
      [[1]],
      { penalty: Number.NaN },
      'option-range options.penalty must be a number at least 0, or "mbic", got NaN',
    ],
    [
      [[1]],
      { minLength: 0 },
      "option-range options.minLength must be a whole number at least 1, got 0",
    ],
    [
      [[1]],
      { minLength: 1.5 },
      "option-range options.minLength must be a whole number at least 1, got 1.5",
    ],
    [
      [[1]],
      { noise: [] },
      "option-range options.noise must be one variance for each of the 1 columns, got 0 values",
    ],
    [
      [[1]],
      { noise: [Number.NaN] },
      "option-range options.noise[0] must be a number above 0, got NaN",
    ],
  ])("refuses %j with %j", (columns, options, text) => {
    const call = () => findChangePoints(columns as number[][], options);
    expectFault(call, text);
  });

  it("names all faults at once", () => {
    const call = () => findChangePoints([[1, 2], [3]], { penalty: -1, minLength: 0 });
    expect(faultsOf(call).map((fault) => fault.split(" ")[0])).toEqual([
      "option-range",
      "option-range",
      "column-length",
    ]);
  });
});

/**
 * Few breaks, weak and strong, and stretches without any, so that every way of dropping is used.
 */
function longCase(random: Random, n: number): BruteForceCase {
  const base = randomCase(random, n);
  const strength = 3 * random.uniform();
  const levels = Array.from({ length: 4 }, () => strength * random.normal());
  const columns = base.columns.map((column) =>
    column.map((value, i) =>
      Number.isNaN(value) ? value : levels[Math.floor((4 * i) / n)]! + random.normal(),
    ),
  );
  return { ...base, columns };
}

/** Optimal partitioning without any pruning, over costs from their definition. */
function plainOptimum(
  columns: readonly (readonly number[])[],
  options: {
    penalty: number | "mbic";
    noise: readonly number[];
    minLength: number;
    change: string;
  },
): number {
  const n = columns[0]!.length;
  const { penalty, minLength, noise } = options;
  const mbic = penalty === "mbic";
  const fitted = options.change === "mean" ? 1 : 2;
  const rows = columns[0]!.filter((_, i) => columns.some((c) => !Number.isNaN(c[i]!))).length;
  const price = mbic ? 2 * Math.log(rows) : penalty;
  const totals = columns.map((column) => totalsOf(column));
  const cost = (from: number, to: number) => {
    let sum = 0;
    for (let c = 0; c < columns.length; c++) {
      const { count, sums, squared } = totals[c]!;
      const k = count[to]! - count[from]!;
      if (k === 0) continue;
      const x = sums[to]! - sums[from]!;
      const squares = Math.max(0, squared[to]! - squared[from]! - (x * x) / k) / noise[c]!;
      const v = Math.max(0.01, squares / k);
      sum += options.change === "mean" ? squares : k * Math.log(v) + squares / v;
      if (mbic) sum += fitted * Math.log(k);
    }
    return sum;
  };
  const best = [-price];
  for (let t = 1; t <= n; t++) {
    best[t] = t < minLength ? Number.POSITIVE_INFINITY : price + cost(0, t) - price;
    for (let s = minLength; s <= t - minLength; s++) {
      best[t] = Math.min(best[t]!, best[s]! + cost(s, t) + price);
    }
  }
  const all = mbic
    ? totals.reduce((sum, { count }) => sum + fitted * Math.log(Math.max(1, count[n]!)), 0)
    : 0;
  return best[n]! - all;
}

/** Values, their sum and that of their squares before each sample, and before the end. */
function totalsOf(column: readonly number[]) {
  const [count, sums, squared] = [[0], [0], [0]];
  for (const [i, value] of column.entries()) {
    const missing = Number.isNaN(value);
    count.push(count[i]! + (missing ? 0 : 1));
    sums.push(sums[i]! + (missing ? 0 : value));
    squared.push(squared[i]! + (missing ? 0 : value * value));
  }
  return { count, sums, squared };
}

function unprunedOptimum(given: BruteForceCase): number {
  const n = given.columns[0]!.length;
  const mbic = given.penalty === "mbic";
  const best = [0];
  const rows = (from: number, to: number) => ({
    ...given,
    columns: given.columns.map((column) => column.slice(from, to)),
  });
  // The length terms are added here by hand: a sub-row's own objective leaves its length out.
  const lengths = (from: number, to: number) =>
    given.columns.reduce((sum, column) => {
      const count = column.slice(from, to).filter((value) => !Number.isNaN(value)).length;
      return sum + (mbic && count > 0 ? Math.log(count) : 0);
    }, 0);
  const present = given.columns[0]!.filter((_, i) =>
    given.columns.some((column) => !Number.isNaN(column[i]!)),
  ).length;
  const perBreak = given.penalty === "mbic" ? 2 * Math.log(present) : given.penalty;
  for (let t = 1; t <= n; t++) {
    best[t] = Number.POSITIVE_INFINITY;
    for (let s = 0; s <= t - given.minLength; s++) {
      const cost = objective({ ...rows(s, t), penalty: 0 }, []) + lengths(s, t);
      best[t] = Math.min(best[t]!, best[s]! + cost + (s === 0 ? 0 : perBreak));
    }
  }
  return Math.min(best[n]! - lengths(0, n), objective(given, []));
}
