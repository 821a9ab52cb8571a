import { describe, expect, it } from "vitest";
import { pOf, scanOf } from "./support/scanned-line.js";

describe("the scan of a line", () => {
  it("finds nothing in 95 of 100 lines of noise, correlated along the line or not", () => {
    for (const likeness of [0, 0.6, 0.9]) {
      let wrong = 0;
      for (let seed = 1; seed <= 100; seed++) {
        if (pOf(scanOf({ seed, likeness })) <= 0.05) wrong++;
      }
      // 5 of 100 and two binomial deviations.
      expect(wrong, `${wrong} of 100 at ${likeness}`).toBeLessThanOrEqual(9);
    }
  });
});
