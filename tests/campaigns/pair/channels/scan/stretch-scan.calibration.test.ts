import { describe, expect, it } from "vitest";
import { N, pOf, scanOf } from "./support/scanned-line.js";

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

  it("finds nine of ten changes of the strength that it states it needs", () => {
    let found = 0;
    const stretch = new Uint8Array(N).fill(1, 120, 160);
    for (let seed = 1; seed <= 100; seed++) {
      const still = scanOf({ seed, likeness: 0.6 }, { changed: stretch });
      const error = Math.sqrt(still.errorOf(120, 159)[0]!);
      const change = (still.strengthNeeded(0.05) * error) / 40;
      const line = { seed, likeness: 0.6, change };
      const { first, last } = scanOf(line).best()!;
      const changed = new Uint8Array(N).fill(1, first, last + 1);
      const { p } = scanOf(line, { changed }).testedNominee(scanOf(line).best()!)!;
      if (p <= 0.05 && first < 160 && last >= 120) found++;
    }
    // 90 of 100 and three binomial deviations; the best ends find a few more than the stretch itself.
    expect(found, `${found} of 100`).toBeGreaterThanOrEqual(81);
    expect(found, `${found} of 100`).toBeLessThanOrEqual(99);
  });
});
