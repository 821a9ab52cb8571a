import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { type ChannelSpec, coilPairResponse, forwardOf, mS_per_m_of_ppm } from "./forward.js";
import type { Earth } from "./reflection.js";

const earthOf = (mS_per_m: number[], thickness_m: number[] = []): Earth => ({
  conductivity_S_per_m: mS_per_m.map((one) => one / 1000),
  thickness_m,
});

/** s, f, h, conductivities mS/m, thicknesses; HCP and VCP in-phase and quadrature, ppm. */
type Row = [number, number, number, number[], number[], number[]];
// Computed by adaptive quadrature, two routes (calc).
const TABLE: readonly Row[] = [
  [1, 10_000, 0, [100], [], [124.6499, 1841.772, 63.58645, 1907.811]],
  [4, 10_000, 0, [50], [], [2521.669, 12822.803, 1337.226, 14300.965]],
  [10, 6400, 0, [200], [], [90630.775, 80924.51, 59986.199, 162185.634]],
  [10, 400, 0, [20], [], [89.7595, 1484.558, 45.6896, 1531.827]],
  [1.5, 5000, 0.5, [20], [], [12.87388, 355.6278, 6.46497, 230.7353]],
  [1.5, 20_000, 0.5, [50, 10], [1], [67.62866, 2059.723, 34.97479, 1514.795]],
  [4, 10_000, 0, [50, 10], [1], [383.8865, 4189.222, 214.1788, 7832.045]],
  [4, 10_000, 0, [10, 50], [1], [2197.667, 11633.77, 1141.298, 9548.908]],
  [4, 10_000, 1, [30, 80, 8], [1.5, 3.5], [1183.976, 10593.6846, 623.0373, 7425.984]],
];

describe("the menagerie's forward model", () => {
  it("gives the values of two other quadratures over half-spaces and layers", () => {
    for (const [separation_m, frequency_Hz, height_m, mS, thickness, expected] of TABLE) {
      const coils = { separation_m, frequency_Hz, height_m };
      const earth = earthOf(mS, thickness);
      const both = (["HCP", "VCP"] as const).map((orientation) =>
        coilPairResponse(earth, { ...coils, orientation }),
      );
      // The values have seven digits, some six.
      for (const [k, { inphase_ppm, quadrature_ppm }] of both.entries()) {
        expectClose(inphase_ppm, expected[2 * k]!, { relative: 2e-6 });
        expectClose(quadrature_ppm, expected[2 * k + 1]!, { relative: 1e-6 });
      }
    }
  });

  it("gives the perpendicular pair's closed form on a half-space", () => {
    // x² [I₁(x/2) K₁(x/2) − I₂(x/2) K₂(x/2)], x = s sqrt(iωμ₀σ) (Ward & Hohmann 1988, after Wait);
    // s, f, σ mS/m, in-phase, quadrature by mpmath 1.3 with 30 digits (besseli, besselk).
    const table = [
      [1, 10_000, 100, 12.9110506138, 1970.87026917],
      [1.8, 60_000, 20, 155.26274458, 7628.81233515],
      [4, 9000, 300, 10547.2536896, 79971.7366061],
      [10, 1500, 50, 506.127435319, 14635.2942043],
    ] as const;
    for (const [separation_m, frequency_Hz, mS, inphase, quadrature] of table) {
      const coils = { separation_m, frequency_Hz, height_m: 0, orientation: "PRP" } as const;
      const reading = coilPairResponse(earthOf([mS]), coils);
      expectClose(reading.quadrature_ppm, quadrature, { relative: 1e-5 });
      expectClose(reading.inphase_ppm, inphase, { absolute: 1e-5 * quadrature });
    }
  });

  it("tends to the closed form of low induction above a layer and below it", () => {
    // McNeill 1980: R_V = 1/sqrt(4z² + 1), R_H = sqrt(4z² + 1) − 2z, z in separations; PRP
    // 1 − 2z/sqrt(4z² + 1) (the integral of the same kernel with J₁).
    const beyond = {
      HCP: (z: number) => 1 / Math.sqrt(4 * z * z + 1),
      VCP: (z: number) => Math.sqrt(4 * z * z + 1) - 2 * z,
      PRP: (z: number) => 1 - (2 * z) / Math.sqrt(4 * z * z + 1),
    };
    for (const orientation of ["HCP", "VCP", "PRP"] as const) {
      const coils = { orientation, separation_m: 2, frequency_Hz: 100, height_m: 0.4 };
      const q = coilPairResponse(earthOf([4, 1], [1]), coils).quadrature_ppm;
      const R = beyond[orientation];
      const expected = 4 * R(0.2) - 3 * R(0.7);
      // Induction number 0.0018 and less: what is left is of its order.
      expectClose(q * mS_per_m_of_ppm(coils), expected, { relative: 5e-3 });
    }
  });

  it("sees no difference where a layer is cut in two, and nothing over air", () => {
    const coils = {
      separation_m: 3,
      frequency_Hz: 9000,
      height_m: 0.2,
      orientation: "HCP",
    } as const;
    const whole = coilPairResponse(earthOf([20, 90], [2]), coils);
    const cut = coilPairResponse(earthOf([20, 20, 90], [0.7, 1.3]), coils);
    expectClose(cut.quadrature_ppm, whole.quadrature_ppm, { relative: 1e-12 });
    expect(coilPairResponse(earthOf([0, 0], [1]), coils)).toEqual({
      inphase_ppm: -0,
      quadrature_ppm: -0,
    });
  });

  it("reads a conductivity channel as 4 Q/(ωμ₀s²)", () => {
    const pair = { frequency_Hz: 9000, separation_m: 2, orientation: "HCP" } as const;
    const channels: ChannelSpec[] = [
      { ...pair, field: "q", kind: "quadrature", unit: "ppm" },
      { ...pair, field: "c", kind: "conductivity", unit: "mS/m" },
    ];
    const [q, c] = forwardOf(channels)(earthOf([30]), 0.5);
    const omegaMu = 2 * Math.PI * 9000 * 4e-7 * Math.PI;
    expectClose(c!, (1000 * 4 * 1e-6 * q!) / (omegaMu * 4), { relative: 1e-12 });
  });
});
