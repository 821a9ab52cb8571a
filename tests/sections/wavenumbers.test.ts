import { describe, expect, it } from "vitest";
import { alongStrike } from "../../lib/earth/embankment/strike-transform.js";
import { besselK0 } from "../../lib/numerics/functions/modified-bessel.js";
import { wavenumbers } from "../../lib/sections/wavenumbers.js";
import { expectClose } from "../support/expect-close.js";

// The pair behind both: (2/π) ∫₀^∞ K0(k r) cos(k y) dk = 1/sqrt(r² + y²) (A&S 11.4.14 at order 0).

describe("wavenumbers", () => {
  it("bring K0(k r) back to 1/r over the whole range of distances", () => {
    const range = { nearest_m: 0.5, farthest_m: 300, step: 0.8 };
    const { k_per_m, weight } = wavenumbers(range);
    for (const r of [0.5, 1, 3, 10, 40, 120, 300]) {
      const sum = k_per_m.reduce((s, k, i) => s + weight[i]! * besselK0(k * r), 0);
      // exp(−π²/0.8) is 4e-6; the tails at both ends add a few 1e-5.
      expectClose((2 / Math.PI) * sum * r, 1, { absolute: 1e-4 });
    }
  });

  it("number few more than ten for a usual line", () => {
    const { k_per_m } = wavenumbers({ nearest_m: 1, farthest_m: 90, step: 0.8 });
    expect(k_per_m.length).toBeLessThan(18);
  });
});

describe("alongStrike", () => {
  it("brings K0(k r) back to the distance in space", () => {
    const low = Math.log(1e-4);
    const step = 0.3;
    const values = Float64Array.from({ length: 40 }, (_, i) =>
      besselK0(2 * Math.exp(low + i * step)),
    );
    for (const y of [0, 0.3, 1, 5, 20, 50]) {
      // The spline's error; the potential itself is between 0.02 and 0.5.
      expectClose(alongStrike({ low, step, values }, y), 1 / Math.hypot(2, y), { absolute: 1e-4 });
    }
  });

  it("brings an odd function of the wavenumber back with the sine", () => {
    // The pair's derivative by y: (2/π) ∫ k K0(k r) sin(k y) dk = y/(r² + y²)^(3/2).
    const low = Math.log(1e-3);
    const step = 0.3;
    const values = Float64Array.from({ length: 34 }, (_, i) => {
      const k = Math.exp(low + i * step);
      return k * besselK0(2 * k);
    });
    for (const y of [0, 0.3, 1, 5, 20]) {
      const back = alongStrike({ low, step, values }, y, "sine");
      // The spline's error; the largest value is 0.1.
      expectClose(back, y / Math.hypot(2, y) ** 3, { absolute: 1e-4 });
    }
  });
});
