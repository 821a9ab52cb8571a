import { describe, expect, it } from "vitest";
import {
  madScale,
  median,
  quantile,
  sortedPresent,
  sortedQuantile,
} from "../../../lib/numerics/statistics/robust.js";
import { expectClose } from "../../support/expect-close.js";

describe("sortedPresent", () => {
  it("gives what is there in rising order, however many values there are", () => {
    for (let count = 0; count <= 90; count++) {
      const values = Array.from({ length: count }, (_, i) => ((i * 37) % 23) - 7);
      const given = Float64Array.from(values.flatMap((value) => [value, Number.NaN]));
      const inOrder = [...values].sort((one, other) => one - other);
      expect([...sortedPresent(given)]).toEqual(inOrder);
    }
  });
});

describe("quantile", () => {
  it("interpolates between order statistics as definition 7 of Hyndman & Fan 1996", () => {
    // By hand: place p (n − 1) in the sorted values.
    expect(quantile([4, 1, 3, 2], 0.25)).toBe(1.75);
    expect(quantile([10, 20, 40], 0.9)).toBe(36);
    expect(quantile([3, 1, 2], 0)).toBe(1);
    expect(quantile([3, 1, 2], 1)).toBe(3);
  });

  it("is what sorting gives, to the same bits, for many values and for many that are alike", () => {
    for (const steps of [3, 40, 1e6]) {
      let state = steps;
      const values = Float64Array.from({ length: 301 }, () => {
        state = (state * 16807) % 2147483647;
        return Math.round((state / 2147483647) * steps) / 7;
      });
      for (const p of [0, 0.1, 0.25, 0.5, 0.9, 0.999, 1]) {
        expect(quantile(values, p)).toBe(sortedQuantile(values.toSorted(), p));
      }
    }
  });

  it("ignores NaN, and is NaN for nothing at all and for p outside 0 to 1", () => {
    expect(quantile([Number.NaN, 5, Number.NaN], 0.3)).toBe(5);
    expect(quantile([], 0.5)).toBeNaN();
    expect(quantile([Number.NaN], 0.5)).toBeNaN();
    expect(quantile([1, 2], Number.NaN)).toBeNaN();
    expect(quantile([1, 2], 1.01)).toBeNaN();
  });

  it("leaves infinite values in their order without making NaN of them", () => {
    expect(quantile([Infinity, 1, Infinity, Infinity], 0.9)).toBe(Infinity);
  });
});

describe("median", () => {
  it("takes the middle value, or the mean of the middle two, and keeps its input", () => {
    const values = Object.freeze([9, 1, 5]);
    expect(median(values)).toBe(5);
    expect(median([9, 1, 5, 6])).toBe(5.5);
    expect(values).toEqual([9, 1, 5]);
  });
});

describe("madScale", () => {
  it("is 1.4826 times the median absolute deviation, whatever one outlier does", () => {
    // Hampel 1974: the factor 1 / Φ⁻¹(3/4). Deviations from 3: 2 1 0 1 97, median 1.
    expectClose(madScale([1, 2, 3, 4, 100]), 1.482602218505602, { relative: 1e-15 });
    expect(madScale([1, 2, 3, 4, 1e9])).toBe(madScale([1, 2, 3, 4, 100]));
  });

  it("is 0 where more than half agree and NaN for nothing at all", () => {
    expect(madScale([7, 7, 7, 1])).toBe(0);
    expect(madScale([Number.NaN])).toBeNaN();
  });
});
