import { describe, expect, it } from "vitest";
import { fitHead, moderatedTest } from "../../../lib/campaigns/head/head-fit.js";
import { expectClose } from "../../support/expect-close.js";

describe("fitHead and testFit", () => {
  it("fit a straight line, and test it by Student's t with the line's scatter", () => {
    const fit = fitHead([1, 2, Number.NaN, 3, 4], [2, 4, 9, 5, 9])!;
    // By hand: h̄ 2.5, ȳ 5, Σhh 5, Σhy 11, Σyy 26.
    expectClose(fit.slope, 2.2, { absolute: 1e-12 });
    expectClose(fit.residualSquares, 1.8, { absolute: 1e-12 });
    expect(fit.dof).toBe(2);
    const { interval, p } = moderatedTest(fit, 0.9);
    // s² = (4 × 0.9 + 1.8) / 6 = 0.9; error √(0.9/5) = 0.4243; t(0.1; 6) = 1.943 (A&S 26.10).
    expectClose(interval[1] - 2.2, 1.943 * 0.424264, { absolute: 5e-4 });
    expect(p).toBeLessThan(0.01);
    expect(fitHead([1, 1, 1], [1, 2, 3])).toBe(null);
    expect(fitHead([1, 2], [1, 2])).toBe(null);
  });
});
