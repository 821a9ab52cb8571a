import { describe, expect, it } from "vitest";
import { extent, logDomain, logSteps, rounded, significant } from "../../lib/figures/numbers.js";

describe("numbers of a specification", () => {
  it("are rounded, and missing ones are null", () => {
    expect(significant(1234.567)).toBe(1235);
    expect(significant(Number.NaN)).toBeNull();
    expect(rounded(12.345, 1)).toBe(12.3);
    expect(Object.is(rounded(-0.01), 0)).toBe(true);
    expect(rounded(Number.POSITIVE_INFINITY)).toBeNull();
  });

  it("have an extent that ignores missing values", () => {
    expect(extent([[3, Number.NaN], [-1]])).toEqual([-1, 3]);
    expect(extent([[Number.NaN], []])).toBeNull();
  });
});

describe("log scales", () => {
  it("end on 1, 2 or 5 times a power of ten and enclose the values", () => {
    expect(logDomain([[0, -3, 12, 180]])).toEqual([10, 200]);
    expect(logDomain([[20, 20]])).toEqual([20, 50]);
    expect(logDomain([[]])).toEqual([1, 10]);
    expect(logSteps(0.03, 0.4)).toEqual([0.02, 0.05, 0.1, 0.2, 0.5]);
    expect(logSteps(1000, 1000)).toEqual([1000, 2000]);
  });
});
