import { describe, expect, it } from "vitest";
import {
  besselK0,
  besselK1,
  besselRatioK1K0,
} from "../../../lib/numerics/functions/modified-bessel.js";
import { expectClose } from "../../support/expect-close.js";

/**
 * K_n(x) = ∫₀^∞ exp(−x cosh t) cosh(n t) dt (Abramowitz & Stegun 1964, 9.6.24), trapezoidal rule.
 */
function byIntegral(order: number, x: number): number {
  const step = 1 / 64;
  let sum = Math.exp(-x) / 2;
  for (let t = step; t < 12; t += step) sum += Math.exp(-x * Math.cosh(t)) * Math.cosh(order * t);
  return sum * step;
}

describe("modified Bessel functions of the second kind", () => {
  it.each([0.001, 0.1, 0.7, 1.999, 2.001, 5, 20, 80])("agree with their integral at %f", (x) => {
    // Both to rounding: that of exp(−x cosh t) grows with x, to 4e-15 at 80.
    expectClose(besselK0(x), byIntegral(0, x), { relative: 2e-14 });
    expectClose(besselK1(x), byIntegral(1, x), { relative: 2e-14 });
    expectClose(besselRatioK1K0(x), byIntegral(1, x) / byIntegral(0, x), { relative: 2e-14 });
  });

  it("have a ratio where they themselves are too small for a number", () => {
    // K1/K0 → 1 + 1/(2x) − 1/(8x²) (A&S 9.7.2); the next term, 1/(8x³), is 1.25e-13 here.
    expectClose(besselRatioK1K0(1e4), 1 + 0.5e-4 - 1.25e-9, { absolute: 2e-13 });
    expect(besselK0(1e4)).toBe(0);
  });
});
