import { describe, expect, it } from "vitest";
import { besselJ0, besselJ1 } from "../../../lib/numerics/functions/bessel.js";
import { expectClose } from "../../support/expect-close.js";

// Abramowitz & Stegun 1964, table 9.1 gives x = 1, 5, 10 and 17.5 to 10 digits and more; all values
// here to double precision from mpmath: besselj(n, x).
const TABLE: readonly (readonly [x: number, j0: number, j1: number])[] = [
  [0, 1, 0],
  [0.1, 0.99750156206604, 0.049937526036242],
  [1, 0.7651976865579666, 0.4400505857449335],
  [2.4, 0.002507683297243813, 0.520185268181931],
  [5, -0.1775967713143383, -0.32757913759146523],
  [10, -0.24593576445134835, 0.04347274616886144],
  [17.5, -0.10311039822868592, -0.1634199694257549],
  [24.9, 0.08324596835301568, -0.13485569953140875],
  [25.1, 0.1082756714999493, -0.11463478413442273],
  [30, -0.08636798358104021, -0.11875106261662294],
  [100, 0.019985850304223122, -0.07714535201411216],
  [500, -0.034100556880732, 0.010472613470372294],
];

describe("besselJ0 and besselJ1", () => {
  it("agree with the tables to 1e-15 on both sides of the change of method", () => {
    for (const [x, j0, j1] of TABLE) {
      expectClose(besselJ0(x), j0, { absolute: 1e-15 });
      expectClose(besselJ1(x), j1, { absolute: 1e-15 });
    }
  });

  it("vanish at their published zeros", () => {
    // Abramowitz & Stegun 1964, table 9.5.
    for (const zero of [2.404825557695773, 5.52007811028631, 30.634606468431976]) {
      expectClose(besselJ0(zero), 0, { absolute: 1e-15 });
    }
    for (const zero of [3.831705970207512, 7.015586669815619, 32.1896799109744]) {
      expectClose(besselJ1(zero), 0, { absolute: 1e-15 });
    }
  });

  it("are even and odd, and NaN for NaN", () => {
    for (const x of [0.3, 7, 40]) {
      expect(besselJ0(-x)).toBe(besselJ0(x));
      expect(besselJ1(-x)).toBe(-besselJ1(x));
    }
    expect(besselJ0(Number.NaN)).toBeNaN();
    expect(besselJ1(Number.NaN)).toBeNaN();
  });

  it("keep small values of J1 to their last digits", () => {
    // J1(x) = x/2 − x³/16 + …
    expectClose(besselJ1(1e-8), 5e-9, { relative: 1e-15 });
  });
});
