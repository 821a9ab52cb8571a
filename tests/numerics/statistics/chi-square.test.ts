import { describe, expect, it } from "vitest";
import { chiSquareTail } from "../../../lib/numerics/statistics/chi-square.js";
import { expectClose } from "../../support/expect-close.js";

describe("chiSquareTail", () => {
  it("agrees with published and computed tail probabilities to 1e-12", () => {
    // The 5 % points of 1, 2 and 10 degrees are in every table (Abramowitz & Stegun 1964, 26.8);
    // the rest by mpmath: gammainc(dof/2, x/2, regularized=True).
    const table = [
      [3.841458820694124, 1, 0.05],
      [5.991464547107979, 2, 0.05],
      [18.307038053275146, 10, 0.05],
      [0.01, 1, 0.920344325445942],
      [1, 5, 0.9625657732472964],
      [30.5, 15, 0.010240917851944123],
      [100, 7, 1.0787979671702883e-18],
      [1200, 1000, 1.2255942330622905e-5],
    ] as const;
    for (const [x, dof, tail] of table)
      expectClose(chiSquareTail(x, dof), tail, { relative: 1e-12 });
  });

  it("is 1 at 0 and below, 0 at infinity, NaN for NaN, and refuses a broken number of degrees", () => {
    expect(chiSquareTail(0, 3)).toBe(1);
    expect(chiSquareTail(-1, 3)).toBe(1);
    expect(chiSquareTail(Infinity, 3)).toBe(0);
    expect(chiSquareTail(Number.NaN, 3)).toBeNaN();
    // Where a term of the series is too small for a number: 1 far below the mean, 0 far above it.
    expect(chiSquareTail(0.01, 169)).toBe(1);
    expect(chiSquareTail(5000, 3)).toBe(0);
    expect(() => chiSquareTail(1, 1.5)).toThrow(
      "dof must be a whole number of 1 or above, got 1.5",
    );
  });
});
