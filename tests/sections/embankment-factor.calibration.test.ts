import { describe, expect, it } from "vitest";
import type { EmbankmentShape } from "../../lib/earth/embankment/shape.js";
import { embankmentFactor, embankmentFactors } from "../../lib/sections/embankment-factor.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";

const wenner = (a: number) => ({ a_m: 0, m_m: a, n_m: 2 * a, b_m: 3 * a });

const shape = (changed: Partial<EmbankmentShape> = {}): EmbankmentShape =>
  Object.freeze({
    crestWidth_m: 4,
    height_m: 4,
    watersideSlope: 2,
    landsideSlope: 2,
    offset_m: 0,
    ...changed,
  });

const SPACINGS = [1, 2, 3, 5, 10, 20, 50];

describe("embankmentFactor", () => {
  // Wenner along the crest's middle: a table computed by an independent method, given to 0.002.
  // Ours lies within 0.0006 of it and is converged to about 0.0001 (panels and wavenumbers halved).
  it.each([
    [4, 4, 2, [1.0089, 1.0468, 1.0978, 1.1831, 1.261, 1.2197, 1.0826]],
    [4, 4, 3, [1.0057, 1.0299, 1.0627, 1.1189, 1.1787, 1.1727, 1.0826]],
    [6, 4, 3, [1.0018, 1.0118, 1.0297, 1.0724, 1.1422, 1.1599, 1.085]],
    [4, 2, 2, [1.0086, 1.0446, 1.0911, 1.1601, 1.1869, 1.1164, 1.0333]],
  ])("agrees with the table for crest %f, height %f, slope 1:%f", (crest, height, slope, table) => {
    const bank = shape({
      crestWidth_m: crest,
      height_m: height,
      watersideSlope: slope,
      landsideSlope: slope,
    });
    const factors = embankmentFactors(bank, SPACINGS.map(wenner));
    for (const [i, factor] of factors.entries())
      expectClose(factor, table[i]!, { absolute: 0.001 });
  });

  it("is 1 on flat ground", () => {
    expect(embankmentFactor(shape({ height_m: 0 }), wenner(5))).toBe(1);
    // A step of a millimetre changes nothing that can be measured.
    expectClose(embankmentFactor(shape({ height_m: 0.001 }), wenner(5)), 1, { absolute: 1e-3 });
  });

  it.each([
    [2, 1.4188],
    [3, 1.2576],
  ])("tends to π/α on a high sharp ridge of 1:%f", (slope, limit) => {
    const ridge = { crestWidth_m: 0.01, height_m: 2000 };
    const slopes = { watersideSlope: slope, landsideSlope: slope };
    // What is left of the crest and of the height takes off about 0.001.
    const factor = embankmentFactor(shape({ ...ridge, ...slopes }), wenner(1));
    expectClose(factor, limit, { absolute: 0.002 });
  });

  it.each([0.1, 0.5, 1, 2])("sees a wall %f m beside the line as one image", (d) => {
    // Keller & Frischknecht 1966: over a quarter-space the wall is a mirror, V = 1/r + 1/sqrt(r² +
    // 4d²).
    const both = (r: number) => 1 / r + 1 / Math.hypot(r, 2 * d);
    const exact = (2 * both(1) - 2 * both(2)) / (2 / 1 - 2 / 2);
    const cliff = { crestWidth_m: 400, height_m: 4000, landsideSlope: 0, offset_m: 200 - d };
    // The other corners are 400 spacings away: below 1e-4.
    expectClose(embankmentFactor(shape(cliff), wenner(1)), exact, { absolute: 2e-4 });
  });

  it("at the very edge of a wall is 2, as over a quarter-space", () => {
    // The line is kept 2 mm off the edge; panels and wavenumbers span six decades.
    const edge = { crestWidth_m: 400, height_m: 4000, landsideSlope: 0, offset_m: 200 };
    expectClose(embankmentFactor(shape(edge), wenner(1)), 2, { absolute: 2e-3 });
  });

  it("does not ask which side the water is on, nor for the unit of length", () => {
    const bank = shape({ landsideSlope: 3, offset_m: 0.8 });
    const mirrored = shape({ watersideSlope: 3, landsideSlope: 2, offset_m: -0.8 });
    const doubled = shape({ crestWidth_m: 8, height_m: 8, landsideSlope: 3, offset_m: 1.6 });
    const factor = embankmentFactor(bank, wenner(5));
    // The same sums in another order; and lengths that only scale.
    expectClose(embankmentFactor(mirrored, wenner(5)), factor, { absolute: 1e-6 });
    expectClose(embankmentFactor(doubled, wenner(10)), factor, { absolute: 1e-6 });
  });

  it("takes remote electrodes, and the same spread read backwards", () => {
    const pole = { a_m: 0, b_m: Infinity, m_m: 5, n_m: Infinity };
    const back = { a_m: 5, b_m: Infinity, m_m: 0, n_m: -Infinity };
    const factor = embankmentFactor(shape(), pole);
    expect(factor).toBeGreaterThan(1);
    expectClose(embankmentFactor(shape(), back), factor, { absolute: 1e-12 });
  });

  it("gives many spreads what it gives each", () => {
    const [two, ten] = embankmentFactors(shape(), [wenner(2), wenner(10)]);
    // The wavenumbers are chosen for all the distances together.
    expectClose(two!, embankmentFactor(shape(), wenner(2)), { absolute: 1e-4 });
    expectClose(ten!, embankmentFactor(shape(), wenner(10)), { absolute: 1e-4 });
    expect(embankmentFactors(shape(), [])).toEqual([]);
  });

  it("names all that is wrong at once", () => {
    const bad = shape({ crestWidth_m: 0, height_m: Number.NaN, landsideSlope: -1, offset_m: 3 });
    expect(faultsOf(() => embankmentFactor(bad, { ...wenner(1), m_m: 0 }))).toEqual([
      "not-positive shape.crestWidth_m",
      "negative shape.height_m",
      "negative shape.landsideSlope",
      "off-crest shape.offset_m",
      "electrodes-coincide spread",
    ]);
    const list = [wenner(1), { ...wenner(1), a_m: Number.NaN }];
    expect(faultsOf(() => embankmentFactors(shape(), list))).toEqual([
      "not-a-position spreads[1].a_m",
    ]);
    expect(() => embankmentFactor(shape({ offset_m: 3 }), wenner(1))).toThrow(
      "embankmentFactor: shape.offset_m must be a number, not beyond half the crest's width to either side, got 3",
    );
  });
});

function faultsOf(call: () => unknown): string[] {
  try {
    call();
  } catch (error) {
    if (error instanceof StepError) return error.faults.map(({ code, path }) => `${code} ${path}`);
    throw error;
  }
  return [];
}
