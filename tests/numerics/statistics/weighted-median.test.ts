import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { weightedMedian } from "../../../lib/numerics/statistics/weighted-median.js";

/** Sorted, and passed one by one. */
function bySorting(values: readonly number[], weights: readonly number[]): number {
  const order = [...values.keys()].sort((a, b) => values[a]! - values[b]!);
  const half = weights.reduce((sum, w) => sum + w, 0) / 2;
  let passed = 0;
  for (const i of order) {
    passed += weights[i]!;
    if (passed >= half) return values[i]!;
  }
  return Number.NaN;
}

describe("weightedMedian", () => {
  it("is the value that sorting finds, ties and halves that are met exactly included", () => {
    const random = seededRandom(4107);
    const whole = (most: number) => Math.floor(most * random.uniform());
    for (let trial = 0; trial < 2000; trial++) {
      const count = 1 + whole(trial % 2 === 0 ? 6 : 60);
      // Weights of quarters add up without rounding, so that halves are met exactly.
      const values = Array.from({ length: count }, () => whole(trial % 3 === 0 ? 4 : 1000));
      const weights = Array.from({ length: count }, () => (1 + whole(4)) / 4);
      const found = weightedMedian(Float64Array.from(values), Float64Array.from(weights), count);
      expect(found).toBe(bySorting(values, weights));
    }
  });

  it("takes the first values of its columns only, and has no value without any", () => {
    const [values, weights] = [Float64Array.of(5, 1, 3, -9), Float64Array.of(1, 1, 1, 50)];
    expect(weightedMedian(values, weights, 3)).toBe(3);
    expect(weightedMedian(values, weights, 0)).toBeNaN();
  });
});
