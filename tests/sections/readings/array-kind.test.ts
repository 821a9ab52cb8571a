import { describe, expect, it } from "vitest";
import { arrayPlace, medianDepth } from "../../../lib/sections/readings/array-kind.js";
import { electrodesAt } from "../../support/electrode-lines.js";
import { expectClose } from "../../support/expect-close.js";

describe("medianDepth", () => {
  // Edwards 1977; Barker 1989: over the spacing a, dipole lengths a.
  it.each([
    ["Wenner α", [0, 3], [1, 2], 0.519],
    ["Wenner β", [1, 0], [2, 3], 0.4159],
    ["Wenner γ", [0, 2], [1, 3], 0.5953],
    ["pole-pole", [0, Infinity], [1, Infinity], 0.866],
    ["dipole-dipole n 2", [1, 0], [3, 4], 0.6972],
    ["dipole-dipole n 4", [1, 0], [5, 6], 1.2202],
    ["dipole-dipole n 6", [1, 0], [7, 8], 1.73],
    ["Schlumberger n 2", [0, 5], [2, 3], 0.9249],
    ["Schlumberger n 6", [0, 13], [6, 7], 2.4782],
  ] as const)("of %s is the published one", (_, current, potential, depth) => {
    expectClose(medianDepth(current, potential), depth, { absolute: 6e-5 });
  });
});

describe("arrayPlace", () => {
  const electrodes = electrodesAt(12);
  it.each([
    ["Wenner α", { a: 1, b: 10, m: 4, n: 7 }],
    ["Wenner α", { a: 4, b: 7, m: 10, n: 1 }],
    ["Wenner β", { a: 2, b: 1, m: 3, n: 4 }],
    ["Wenner γ", { a: 1, b: 3, m: 2, n: 4 }],
    ["Schlumberger", { a: 1, b: 6, m: 3, n: 4 }],
    ["gradient", { a: 1, b: 12, m: 3, n: 4 }],
    ["dipole-dipole", { a: 2, b: 1, m: 5, n: 6 }],
    ["pole-dipole", { a: 1, b: 0, m: 3, n: 4 }],
    ["pole-dipole", { a: 3, b: 4, m: 1, n: 0 }],
    ["pole-pole", { a: 1, b: 0, m: 3, n: 0 }],
    ["interleaved", { a: 1, b: 4, m: 2, n: 9 }],
  ])("names %s of %o", (name, spread) => {
    expect(arrayPlace(spread, electrodes).array).toBe(name);
  });

  it("puts a reading at the middle of its electrodes that are not remote", () => {
    expect(arrayPlace({ a: 2, b: 0, m: 5, n: 6 }, electrodes).x_m).toBe(3);
  });

  it("groups readings of one array and size, and no others", () => {
    const group = (a: number, m: number) =>
      arrayPlace({ a: a + 1, b: a, m, n: m + 1 }, electrodes).group;
    expect(group(1, 4)).toBe(group(5, 8));
    expect(group(1, 4)).not.toBe(group(1, 5));
  });
});
