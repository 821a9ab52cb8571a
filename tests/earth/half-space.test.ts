import { describe, expect, it } from "vitest";
import { coilResponse } from "../../lib/earth/coil-response.js";
import {
  cumulativeResponse,
  groundHalfSpace,
  lowInductionConductivity,
  lowInductionQuadrature,
  skinDepth,
} from "../../lib/earth/half-space.js";
import { expectClose } from "../support/expect-close.js";

const ground = { separation_m: 10, frequency_Hz: 6400 };

describe("groundHalfSpace", () => {
  it("tends to the secondary field alone: 0 over weak ground, not 1", () => {
    // Leading term i B²/2 (both orientations; McNeill 1980), the next of relative order B.
    for (const orientation of ["HCP", "VCP"] as const) {
      const { inphase_ppm, quadrature_ppm } = groundHalfSpace(orientation, 1e-6);
      expectClose(quadrature_ppm, 1e6 * (1e-6 ** 2 / 2), { relative: 1e-5 });
      expect(Math.abs(inphase_ppm)).toBeLessThan(1e-5 * quadrature_ppm);
    }
  });

  it("has no seam where the series takes over from the closed form", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const below = groundHalfSpace(orientation, Math.SQRT1_2 * (1 - 1e-13));
      const above = groundHalfSpace(orientation, Math.SQRT1_2 * (1 + 1e-13));
      expectClose(below.inphase_ppm, above.inphase_ppm, { relative: 1e-11 });
      expectClose(below.quadrature_ppm, above.quadrature_ppm, { relative: 1e-11 });
    }
  });

  it("gives the tabulated ratios of low-induction to true conductivity", () => {
    // Methods, section 2 (calc): B, HCP, VCP; 5 digits. Quadrature over B²/2.
    const table = [
      [0.05, 0.9467, 0.97334],
      [0.1, 0.89362, 0.94674],
      [0.5, 0.49687, 0.74125],
      [1, 0.12379, 0.51921],
    ] as const;
    for (const [b, hcp, vcp] of table) {
      const ratio = (orientation: "HCP" | "VCP") =>
        groundHalfSpace(orientation, b).quadrature_ppm / (1e6 * (b * b * 0.5));
      expectClose(ratio("HCP"), hcp, { absolute: 5.1e-6 });
      expectClose(ratio("VCP"), vcp, { absolute: 5.1e-6 });
    }
  });

  it("turns negative in quadrature between induction numbers of 1 and 1.5, for HCP only", () => {
    // Methods, section 0, finding 1.
    expect(groundHalfSpace("HCP", 1).quadrature_ppm).toBeGreaterThan(0);
    expect(groundHalfSpace("HCP", 1.5).quadrature_ppm).toBeLessThan(0);
    expect(groundHalfSpace("VCP", 1.5).quadrature_ppm).toBeGreaterThan(0);
  });
});

describe("skinDepth and the low-induction relations", () => {
  it("follow their published constants", () => {
    // Skin depth 503.2921 sqrt(ρ/f) m (Ward & Hohmann 1988; methods, section 2).
    expectClose(skinDepth(0.01, 10000), 50.32921, { relative: 1e-7 });
    const asDisplayed = lowInductionConductivity(80924.51, ground);
    expectClose(lowInductionQuadrature(asDisplayed, ground), 80924.51, { relative: 1e-14 });
    // 200 mS/m at B = 0.7108: far below the true conductivity.
    const b = 10 / skinDepth(0.2, 6400);
    const exact = groundHalfSpace("HCP", b).quadrature_ppm;
    expectClose(asDisplayed / 0.2, exact / (1e6 * (b * b * 0.5)), { relative: 1e-7 });
  });

  it("give the published cumulative responses", () => {
    // McNeill 1980 (methods, section 2): at 0.5 and 1; half of it below 0.866 s and 0.375 s.
    expectClose(cumulativeResponse("HCP", 0.5), Math.SQRT1_2, { absolute: 1e-15 });
    expectClose(cumulativeResponse("VCP", 0.5), 0.414214, { absolute: 5e-7 });
    expectClose(cumulativeResponse("HCP", 1), 0.447214, { absolute: 5e-7 });
    expectClose(cumulativeResponse("VCP", 1), 0.236068, { absolute: 5e-7 });
    expectClose(cumulativeResponse("HCP", 0.866), 0.5, { absolute: 1e-4 });
    expectClose(cumulativeResponse("VCP", 0.375), 0.5, { absolute: 1e-4 });
  });

  it("are the limit of the whole response at weak induction, for all orientations", () => {
    const sigma = 1e-5;
    for (const orientation of ["HCP", "VCP", "PRP"] as const) {
      const coils = { orientation, separation_m: 2, frequency_Hz: 100, height_m: 1 };
      const { quadrature_ppm } = coilResponse(
        { conductivity_S_per_m: [sigma], thickness_m: [] },
        coils,
      );
      const low = lowInductionQuadrature(sigma, coils) * cumulativeResponse(orientation, 0.5);
      // The next term is of the relative order of B = 1.3e-4.
      expectClose(quadrature_ppm, low, { relative: 5e-4 });
    }
  });
});
