import { describe, expect, it } from "vitest";
import { exitGradientOf } from "../../lib/seepage/exit-gradient.js";
import { seepageDefaults } from "../../lib/seepage/options.js";
import { expectClose } from "../support/expect-close.js";
import { smallSurvey } from "../support/small-survey.js";

const section = smallSurvey().crossSectionAt(0);
const ranges = { ...seepageDefaults.blanket, seed: 1 };

describe("exitGradientOf", () => {
  it("meets blanket theory between its blocked and open ends where nothing is uncertain", () => {
    // H 4 m, L1 = L3 = 100 m, base 30 m, d 20 m, k_f 5e-4, k_b 1e-6 m/s, z_b 2 m: exit gradients
    // 1.333450 blocked and 0.851640 open (blanket theory of USACE EM 1110-2-1913, computed
    // independently, six digits).
    const fixed = {
      ...ranges,
      riverside_m: [100, 100],
      landside_m: [100, 100],
      aquiferThickness_m: [20, 20],
      aquiferConductivity_m_per_s: [5e-4, 5e-4],
      blanketConductivity_m_per_s: [1e-6, 1e-6],
      blanketThickness_m: [2, 2],
    } as const;
    const flat = { ...section, crestElevation_m: 4, foundationElevation_m: 0, crestWidth_m: 10 };
    // Base 10 + 4 (2.5 + 2.5) = 30 m.
    const shape = { ...flat, watersideSlope: 2.5, landsideSlope: 2.5 };
    const found = exitGradientOf(shape, 4, fixed)!;
    expectClose(found.p10, 0.85164, { absolute: 1e-5 });
    expectClose(found.p90, 1.33345, { absolute: 1e-5 });
  });

  it("gives the same quantiles for the same seed and orders them", () => {
    const one = exitGradientOf(section, 5.6, ranges)!;
    expect(exitGradientOf(section, 5.6, ranges)).toEqual(one);
    expect(one.p10).toBeLessThan(one.p50);
    expect(one.p50).toBeLessThan(one.p90);
  });

  it("grows with the head", () => {
    const low = exitGradientOf(section, 4, ranges)!;
    const high = exitGradientOf(section, 5.6, ranges)!;
    // Linear in the head: (5.6 − 2.4) / (4 − 2.4) = 2, the draws being the same.
    expectClose(high.p50 / low.p50, 2, { relative: 1e-9 });
  });

  it.each([
    ["no design water level", section, null],
    ["no head", section, 2.4],
    ["no crest width", { ...section, crestWidth_m: null }, 5.6],
  ] as const)("is null with %s", (_, shape, level) => {
    expect(exitGradientOf(shape, level, ranges)).toBeNull();
  });
});
