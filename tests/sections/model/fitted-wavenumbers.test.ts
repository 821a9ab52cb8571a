import { describe, it } from "vitest";
import { besselK0 } from "../../../lib/numerics/functions/modified-bessel.js";
import { fittedWavenumbers } from "../../../lib/sections/model/fitted-wavenumbers.js";
import { expectClose } from "../../support/expect-close.js";

describe("fittedWavenumbers", () => {
  it.each([
    [0.9, 1e-4],
    [0.96, 1.5e-4],
    [1.1, 7e-4],
  ])("bring K0 back to 1/r at a step of %f to %f", (step, relative) => {
    const { k_per_m, weight } = fittedWavenumbers({ nearest_m: 0.5, farthest_m: 100, step });
    for (let i = 0; i <= 200; i++) {
      const r = 0.5 * 200 ** (i / 200);
      const sum = k_per_m.reduce((total, k, j) => total + weight[j]! * besselK0(k * r), 0);
      expectClose((2 / Math.PI) * sum, 1 / r, { relative });
    }
  });
});
