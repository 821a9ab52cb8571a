import { describe, expect, it } from "vitest";
import { findChangePointPath } from "../../../lib/blocks/cut/find-change-point-path.js";
import { findChangePoints } from "../../../lib/blocks/cut/find-change-points.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";
import { nileFlow } from "./nile.js";

describe("findChangePointPath", () => {
  it("equals separate runs at 40 prices, for each kind of change", () => {
    for (const change of ["mean", "mean and spread"] as const) {
      for (let seed = 1; seed <= 12; seed++) {
        const random = seededRandom(seed);
        let level = 0;
        const columns = [0, 1].map(() =>
          Array.from({ length: 150 }, () => {
            if (random.uniform() < 0.05) level = 3 * random.normal();
            return random.uniform() < 0.1 ? Number.NaN : level + random.normal();
          }),
        );
        const options = { noise: [1, 1], minLength: 3, change };
        const path = findChangePointPath(columns, { ...options, from: 1 });
        for (let trial = 0; trial < 40; trial++) {
          const penalty = Math.exp(6 * random.uniform());
          const alone = findChangePoints(columns, { ...options, penalty });
          const step = path.find(({ price }) => price[0] <= penalty && penalty < price[1])!;
          expect(step.breaks).toEqual(alone.breaks);
          expectClose(step.cost + penalty * step.breaks.length, alone.objective, {
            relative: 1e-9,
          });
        }
        expect(path.at(-1)!.price[1]).toBe(Number.POSITIVE_INFINITY);
        expect(path.at(-1)!.breaks).toEqual([]);
      }
    }
  });

  // Least squares of the Nile's flow with at least 15 years a segment, m = 0, 1, 2, 4, computed
  // independently and printed to one decimal: 2835156.8 1597457.2 1552923.6 1507888.5. The prices
  // between are differences of these; (1552923.6 − 1507888.5) / 2 = 22517.55 lies above the gains
  // of m = 3 and 4 one by one, so m = 3 is never the best.
  it("walks the Nile's cuts from four breaks to none at the known prices", () => {
    const path = findChangePointPath([nileFlow], { noise: [1], minLength: 15, from: 10000 });
    expect(path.map(({ breaks }) => breaks)).toEqual([[28, 45, 68, 83], [28, 83], [28], []]);
    const expected = [22517.55, 44533.6, 1237699.6];
    path.slice(1).forEach(({ price }, i) => {
      expectClose(price[0], expected[i]!, { absolute: 0.1 });
    });
  });

  it("keeps the length terms of mbic where asked to", () => {
    const random = seededRandom(2);
    const column = Array.from({ length: 200 }, (_, i) => (i < 70 ? 0 : 1.2) + random.normal());
    const path = findChangePointPath([column], { noise: [1], lengthTerms: true });
    const alone = findChangePoints([column], { noise: [1], penalty: "mbic" });
    const price = 2 * Math.log(200);
    const step = path.find((one) => one.price[0] <= price && price < one.price[1])!;
    expect(step.breaks).toEqual(alone.breaks);
    expectClose(step.cost + price * step.breaks.length - Math.log(200), alone.objective, {
      relative: 1e-9,
    });
  });

  it("gives the example of its description, and one step for a single sample", () => {
    const path = findChangePointPath([[0, 1, 0, 1, 9, 8, 9, 8]], { noise: [1], from: 3 });
    expect(path).toEqual([
      { price: [3, 128], breaks: [4], cost: 2 },
      { price: [128, Number.POSITIVE_INFINITY], breaks: [], cost: 130 },
    ]);
    expect(findChangePointPath([[1]], { noise: [1] })).toHaveLength(1);
  });

  it.each([
    [[[]], {}, "empty columns must be columns of at least one sample, got an empty column"],
    [[[1]], { from: -1 }, "option-range options.from must be a number at least 0, or null, got -1"],
    [[[1]], { from: 3, to: 2 }, "option-range options.to must be above options.from (3), got 2"],
    [
      [[1]],
      { minLength: 0 },
      "option-range options.minLength must be a whole number at least 1, got 0",
    ],
    [
      [[1]],
      { change: "x" },
      'option-value options.change must be one of "mean", "mean and spread", got "x"',
    ],
  ])("refuses %j with %j", (columns, options, text) => {
    const call = () => findChangePointPath(columns as number[][], options as object);
    expectFault(call, text);
  });
});
