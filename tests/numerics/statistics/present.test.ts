import { describe, expect, it } from "vitest";
import {
  extent,
  orNull,
  presentCount,
  presentMean,
} from "../../../lib/numerics/statistics/present.js";

describe("presentCount and presentMean", () => {
  it("leave missing values out, and give NaN where all are missing", () => {
    expect(presentCount([1, Number.NaN, 3])).toBe(2);
    expect(presentMean(Float64Array.of(1, Number.NaN, 4))).toBe(2.5);
    expect(presentMean([Number.NaN])).toBeNaN();
    expect(presentMean([])).toBeNaN();
  });
});

describe("extent", () => {
  it("is the least and the greatest of what is there", () => {
    expect(extent([3, Number.NaN, -1, 2])).toEqual({ least: -1, most: 3 });
    expect(extent(Float64Array.of(Number.NaN))).toEqual({ least: Number.NaN, most: Number.NaN });
    expect(extent([])).toEqual({ least: Number.NaN, most: Number.NaN });
  });
});

describe("orNull", () => {
  it("gives null for a missing value, and nought as nought", () => {
    expect(orNull(Number.NaN)).toBeNull();
    expect(orNull(0)).toBe(0);
  });
});
