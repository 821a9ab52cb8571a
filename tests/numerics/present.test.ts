import { describe, expect, it } from "vitest";
import { presentCount, presentMean } from "../../lib/numerics/present.js";

describe("presentCount and presentMean", () => {
  it("leave missing values out, and give NaN where all are missing", () => {
    expect(presentCount([1, Number.NaN, 3])).toBe(2);
    expect(presentMean(Float64Array.of(1, Number.NaN, 4))).toBe(2.5);
    expect(presentMean([Number.NaN])).toBeNaN();
    expect(presentMean([])).toBeNaN();
  });
});
