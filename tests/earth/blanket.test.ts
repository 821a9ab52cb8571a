import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type BlanketSection, blanketSeepage, criticalGradient } from "../../lib/earth/blanket.js";
import { expectClose } from "../support/expect-close.js";

const section: BlanketSection = {
  head_m: 4,
  watersideLength_m: 100,
  baseWidth_m: 30,
  aquiferThickness_m: 20,
  aquiferConductivity_m_per_s: 5e-4,
  blanketThickness_m: 2,
  blanketConductivity_m_per_s: 1e-6,
  landside: "infinite",
  landsideLength_m: 100,
  saturatedUnitWeight_kN_per_m3: 18.5,
};

describe("blanketSeepage", () => {
  it("gives the check values for a landside without end", () => {
    // Methods, section 7 (calc, formulas of TM 3-424 and EM 1110-2-1913); digits as given there.
    const result = blanketSeepage(section);
    expectClose(result.watersideEffective_m, 86.10572, { absolute: 5e-6 });
    expectClose(result.landsideEffective_m, 141.42136, { absolute: 5e-6 });
    expectClose(result.toeHead_m, 2.196606, { absolute: 5e-7 });
    expectClose(result.exitGradient, 1.098303, { absolute: 5e-7 });
    expectClose(result.seepage_m2_per_s, 1.5532e-4, { absolute: 5e-9 });
    expectClose(result.safety, 0.8065, { absolute: 5e-5 });
  });

  it("gives them for a blocked and for an open landside of 100 m", () => {
    const blocked = blanketSeepage({ ...section, landside: "blocked" });
    expectClose(blocked.exitGradient, 1.33345, { absolute: 5e-7 });
    expectClose(blocked.safety, 0.6643, { absolute: 5e-5 });
    const open = blanketSeepage({ ...section, landside: "open" });
    expectClose(open.exitGradient, 0.85164, { absolute: 5e-7 });
    expectClose(open.safety, 1.0401, { absolute: 5e-5 });
  });

  it("does not care how a very long blanket ends", () => {
    const endless = blanketSeepage(section).exitGradient;
    for (const landside of ["blocked", "open"] as const) {
      for (const landsideLength_m of [1e4, Infinity]) {
        const far = blanketSeepage({ ...section, landside, landsideLength_m });
        expectClose(far.exitGradient, endless, { relative: 1e-12 });
      }
    }
  });

  it("has no upward gradient without a head, and no value for a broken section", () => {
    const still = blanketSeepage({ ...section, head_m: -1 });
    expect([still.exitGradient, still.seepage_m2_per_s, still.safety]).toEqual([0, 0, Infinity]);
    for (const broken of [
      { blanketThickness_m: 0 },
      { baseWidth_m: Number.NaN },
      { head_m: Number.NaN },
    ]) {
      expect(blanketSeepage({ ...section, ...broken }).exitGradient).toBeNaN();
    }
  });
});

describe("the laws of blanketSeepage", () => {
  const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const sections = fc.record({
    head_m: positive(0.1, 8),
    watersideLength_m: positive(5, 500),
    baseWidth_m: positive(5, 60),
    aquiferThickness_m: positive(0.5, 40),
    aquiferConductivity_m_per_s: positive(1e-5, 1e-2),
    blanketThickness_m: positive(0.3, 8),
    blanketConductivity_m_per_s: positive(1e-9, 1e-6),
    landside: fc.constantFrom("infinite" as const, "blocked" as const, "open" as const),
    landsideLength_m: positive(20, 500),
    saturatedUnitWeight_kN_per_m3: positive(15, 21),
  });
  const by = positive(1.001, 5);
  const slack = 1e-12;

  it.each([
    ["a thicker blanket never raises the gradient", "blanketThickness_m", -1],
    ["a higher head never lowers it", "head_m", 1],
    ["a wider base never raises it", "baseWidth_m", -1],
    ["a longer way on the waterside never raises it", "watersideLength_m", -1],
  ] as const)("%s", (_, name, sign) => {
    fc.assert(
      fc.property(sections, by, (one, factor) => {
        const more = blanketSeepage({ ...one, [name]: one[name] * factor }).exitGradient;
        const less = blanketSeepage(one).exitGradient;
        expect(sign * (more - less)).toBeGreaterThanOrEqual(-slack * Math.max(1, less));
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it("an endless landside lies between an open and a blocked one", () => {
    fc.assert(
      fc.property(sections, (one) => {
        const [open, endless, blocked] = (["open", "infinite", "blocked"] as const).map(
          (landside) => blanketSeepage({ ...one, landside }).exitGradient,
        );
        expect(open).toBeLessThanOrEqual(endless! * (1 + slack));
        expect(endless).toBeLessThanOrEqual(blocked! * (1 + slack));
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it("no head under the blanket is over the head on the waterside", () => {
    fc.assert(
      fc.property(sections, (one) => {
        const { toeHead_m } = blanketSeepage(one);
        expect(toeHead_m).toBeGreaterThan(0);
        expect(toeHead_m).toBeLessThan(one.head_m);
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe("criticalGradient", () => {
  it("gives the check values", () => {
    // Methods, section 7.
    expectClose(criticalGradient(2.65, 0.65), 1, { absolute: 1e-12 });
    expectClose(criticalGradient(2.7, 1), 0.85, { absolute: 1e-12 });
  });
});
