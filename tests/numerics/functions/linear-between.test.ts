import { describe, expect, it } from "vitest";
import { lastAtMost, linearBetween } from "../../../lib/numerics/functions/linear-between.js";

describe("linearBetween", () => {
  it("goes straight from point to point and stays level beyond the ends", () => {
    const at = [-1, 0, 0.5, 2, 3, 4, 9].map((x) => linearBetween([0, 2, 4], [1, 5, 3], x));
    expect(at).toEqual([1, 1, 2, 5, 4, 3, 3]);
  });

  it("keeps a step sharp: the later of two points at one place counts there", () => {
    expect([0.999999, 1, 1.5].map((x) => linearBetween([0, 1, 1, 2], [0, 0, 4, 4], x))).toEqual([
      0, 4, 4,
    ]);
  });

  it("is missing where the place is, or where there is no point", () => {
    expect(linearBetween([0, 1], [1, 2], Number.NaN)).toBeNaN();
    expect(linearBetween([], [], 3)).toBeNaN();
    expect(linearBetween([2], [7], 3)).toBe(7);
  });
});

describe("lastAtMost", () => {
  it("finds the last of like values, and one before the range where all are greater", () => {
    expect(lastAtMost([1, 2, 2, 5], 2, [0, 3])).toBe(2);
    expect(lastAtMost([1, 2, 2, 5], 0, [0, 3])).toBe(-1);
    expect(lastAtMost([1, 2, 2, 5], 9, [0, 3])).toBe(3);
  });
});
