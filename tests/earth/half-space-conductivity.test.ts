import { describe, expect, it } from "vitest";
import { type Coils, coilResponse } from "../../lib/earth/coil-response.js";
import {
  halfSpaceConductivity,
  halfSpaceInverse,
} from "../../lib/earth/half-space-conductivity.js";
import { expectClose } from "../support/expect-close.js";

const quadrature = (conductivity: number, coils: Coils) =>
  coilResponse({ conductivity_S_per_m: [conductivity], thickness_m: [] }, coils).quadrature_ppm;

describe("halfSpaceConductivity", () => {
  it("recovers the conductivity that made the quadrature", () => {
    for (const orientation of ["HCP", "VCP", "PRP"] as const) {
      for (const height_m of [0, 0.9, 2]) {
        for (const frequency_Hz of [1500, 60000]) {
          const coils = { orientation, separation_m: 1.8, frequency_Hz, height_m };
          for (const conductivity of [1e-4, 0.02, 0.5]) {
            const found = halfSpaceConductivity(quadrature(conductivity, coils), coils);
            expectClose(found.conductivity_S_per_m, conductivity, { relative: 1e-8 });
            expect(found.found).toBe("yes");
          }
        }
      }
    }
  });

  it("takes the smaller of the two conductivities that give the same quadrature", () => {
    const coils = {
      orientation: "HCP",
      separation_m: 10,
      frequency_Hz: 60000,
      height_m: 0,
    } as const;
    const large = 0.05;
    const found = halfSpaceConductivity(quadrature(large, coils), coils);
    expect(found.conductivity_S_per_m).toBeLessThan(large / 2);
    const again = quadrature(found.conductivity_S_per_m, coils);
    expectClose(again, quadrature(large, coils), { relative: 1e-8 });
  });

  it("says why there is none", () => {
    const inverse = halfSpaceInverse({
      orientation: "HCP",
      separation_m: 1.8,
      frequency_Hz: 4800,
      height_m: 0.9,
    });
    for (const value of [0, -5, Number.NaN]) {
      expect(inverse(value)).toEqual({ conductivity_S_per_m: Number.NaN, found: "not positive" });
    }
    expect(inverse(1e6).found).toBe("above the largest response");
    expect(inverse(1e6).conductivity_S_per_m).toBeNaN();
  });

  it("names the faults of the coils", () => {
    const coils = { orientation: "HCP", separation_m: -1, frequency_Hz: 1, height_m: 0 } as const;
    expect(() => halfSpaceConductivity(1, coils)).toThrow(
      "halfSpaceConductivity: coils.separation_m must be a finite number above 0, got -1",
    );
  });
});
