import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { criticalErosionHead } from "../../lib/earth/backward-erosion.js";
import { expectClose } from "../support/expect-close.js";

const path = { length_m: 40, aquiferThickness_m: 20, d70_m: 2e-4, conductivity_m_per_s: 1e-4 };

/** F₃ from the head, all else as given. */
const geometry = (ratio: number) => {
  const head = (aquiferThickness_m: number) => criticalErosionHead({ ...path, aquiferThickness_m });
  // At half the length F₃ is by hand 0.91 · 0.5^(0.28/(0.5^2.8 − 1) + 0.04).
  const known = 0.91 * 0.5 ** (0.28 / (0.5 ** 2.8 - 1) + 0.04);
  return (known * head(40 * ratio)) / head(20);
};

describe("criticalErosionHead", () => {
  it("gives the check value", () => {
    // Methods, section 7 (calc, formulas of Sellmeijer et al. 2011); digits as given there.
    expectClose(criticalErosionHead(path), 3.46621, { absolute: 5e-6 });
  });

  it("goes smoothly through a pervious layer as thick as the path is long", () => {
    // Methods, section 7: F₃ = 1.005705 there.
    expectClose(geometry(1), 1.005705, { absolute: 1e-6 });
    for (const off of [1e-12, 1e-8, 1e-5, 1e-4]) {
      expectClose(geometry(1 + off), geometry(1 - off), { absolute: 1e-4 });
      expectClose(geometry(1 + off), 1.005705, { absolute: 1e-4 });
    }
  });

  it("is the formula as published away from there", () => {
    for (const ratio of [0.05, 0.3, 0.9, 1.1, 2]) {
      const published = 0.91 * ratio ** (0.28 / (ratio ** 2.8 - 1) + 0.04);
      expectClose(geometry(ratio), published, { relative: 1e-9 });
    }
  });

  const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const paths = fc.record({
    length_m: positive(5, 200),
    aquiferThickness_m: positive(0.5, 60),
    d70_m: positive(1e-4, 6e-4),
    conductivity_m_per_s: positive(1e-6, 1e-2),
  });
  const factor = positive(1.001, 5);

  it.each([
    ["a longer path never lowers it", "length_m", 1],
    ["coarser grains never lower it", "d70_m", 1],
    ["more pervious sand never raises it", "conductivity_m_per_s", -1],
  ] as const)("%s", (_, name, sign) => {
    fc.assert(
      fc.property(paths, factor, (one, by) => {
        const more = criticalErosionHead({ ...one, [name]: one[name] * by });
        expect(sign * (more - criticalErosionHead(one))).toBeGreaterThanOrEqual(-1e-9);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it("a thicker pervious layer never raises it, up to twice the path's length", () => {
    const ratios = fc.double({ min: 0.01, max: 2, noNaN: true });
    fc.assert(
      fc.property(ratios, ratios, (one, other) => {
        const [thin, thick] = [Math.min(one, other), Math.max(one, other)];
        expect(geometry(thick)).toBeLessThanOrEqual(geometry(thin) * (1 + 1e-12));
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it("has no value for what is no path", () => {
    for (const broken of [{ length_m: 0 }, { d70_m: Number.NaN }, { conductivity_m_per_s: -1 }]) {
      expect(criticalErosionHead({ ...path, ...broken })).toBeNaN();
    }
  });
});
