import { describe, expect, it } from "vitest";
import { constancyProbability, fSurvival } from "../../../lib/drift/checks/constancy.js";
import { groupVisits } from "../../../lib/drift/checks/visits.js";
import { expectClose } from "../../support/expect-close.js";

describe("fSurvival", () => {
  // Upper points of the F distribution, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.3.
  // Tolerance: the accuracy that the approximation claims.
  it.each([
    [2.773, 5, 18, 0.05],
    [4.248, 5, 18, 0.01],
    [2.978, 10, 10, 0.05],
    [3.326, 5, 10, 0.05],
    [2.711, 5, 20, 0.05],
  ])("gives the table's probability for F = %f with %i and %i degrees", (f, a, b, p) => {
    expectClose(fSurvival(f, a, b), p, { absolute: 0.003 });
  });
});

describe("constancyProbability", () => {
  const checks = (levels: readonly number[]) =>
    groupVisits(
      levels.flatMap((level, i) =>
        [-1, 0, 1].map((off, k) => ({ time_s: 3600 * i + 2 * k, value: level + off })),
      ),
      { within_s: 150 },
    );

  it("is large for equal means and small for unequal ones", () => {
    expect(constancyProbability(checks([5, 5, 5, 5]))).toBeGreaterThan(0.9);
    expect(constancyProbability(checks([5, 8, 11, 14]))).toBeLessThan(1e-4);
  });

  it("is not determined by one visit", () => {
    expect(constancyProbability(checks([5]))).toBeNaN();
  });
});
