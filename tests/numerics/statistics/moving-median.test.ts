import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { movingMedian, windowsWithin } from "../../../lib/numerics/statistics/moving-median.js";
import { median } from "../../../lib/numerics/statistics/robust.js";

describe("the moving median", () => {
  it("is the median of each window taken by itself, whatever is missing or equal", () => {
    const random = seededRandom(20261202);
    const places = Float64Array.from({ length: 300 }, () => 500 * random.uniform()).sort();
    // A few distinct values, so that windows hold equals, and one in five missing.
    const values = places.map(() => (random.uniform() < 0.2 ? Number.NaN : random.integer(12) / 3));
    for (const half_m of [0, 4, 60, 1000]) {
      const medians = movingMedian(values, windowsWithin(places, half_m));
      const alone = places.map((x) =>
        median(values.filter((_, i) => Math.abs(places[i]! - x) <= half_m)),
      );
      expect(medians).toEqual(alone);
    }
  });

  it("follows windows that leave everything behind, and is missing where they hold nothing", () => {
    const values = Float64Array.of(1, 2, 3, Number.NaN, 5);
    const windows = { first: Int32Array.of(0, 3, 4), end: Int32Array.of(2, 4, 5) };
    expect(movingMedian(values, windows)).toEqual(Float64Array.of(1.5, Number.NaN, 5));
  });
});
