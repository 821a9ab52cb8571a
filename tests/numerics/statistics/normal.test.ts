import { describe, expect, it } from "vitest";
import {
  erfc,
  NORMAL_90,
  NORMAL_95,
  normalPoint,
  normalTail,
  normalTwoSided,
} from "../../../lib/numerics/statistics/normal.js";
import { expectClose } from "../../support/expect-close.js";

describe("erfc", () => {
  it("agrees with published values to 1e-13 from −1 to where it underflows", () => {
    // Abramowitz & Stegun 1964, table 7.1; to double precision from mpmath: erfc(x).
    const table = [
      [-1, 1.8427007929497148],
      [0, 1],
      [0.1, 0.8875370839817152],
      [1, 0.15729920705028513],
      [2, 0.004677734981047266],
      [2.19, 0.0019540567571985426],
      [2.21, 0.0017755620240656313],
      [3, 2.209049699858544e-5],
      [5, 1.537459794428035e-12],
      [10, 2.088487583762545e-45],
      [26, 5.663192408856143e-296],
    ] as const;
    for (const [x, value] of table) expectClose(erfc(x), value, { relative: 1e-13 });
  });

  it("goes to its limits and passes NaN on", () => {
    expect(erfc(40)).toBe(0);
    expect(erfc(-40)).toBe(2);
    expect(erfc(Infinity)).toBe(0);
    expect(erfc(Number.NaN)).toBeNaN();
  });
});

describe("normalTail and normalTwoSided", () => {
  it("give the tail probabilities of the normal distribution", () => {
    // The 97.5 % point; and the Nile series' Mann-Kendall Z (methods, section 5), by mpmath.
    expectClose(normalTail(1.959963984540054), 0.025, { relative: 1e-13 });
    expectClose(normalTail(4.12807), 1.829103808008745e-5, { relative: 1e-13 });
    expectClose(normalTail(-4.12807), 1 - 1.829103808008745e-5, { relative: 1e-15 });
    expectClose(normalTwoSided(-2.9058), 2 * 0.001831577535029659, { relative: 1e-13 });
  });
});

describe("points of the normal distribution", () => {
  it("leave out a tenth and a twentieth", () => {
    // To the rounding of the points: 2e-16 times the density over the share.
    expectClose(normalTail(NORMAL_90), 0.1, { relative: 1e-14 });
    expectClose(normalTail(NORMAL_95), 0.05, { relative: 1e-14 });
    expectClose(normalPoint(0.1), NORMAL_90, { relative: 1e-15 });
    expectClose(normalPoint(0.95), -NORMAL_95, { relative: 1e-15 });
  });
});
