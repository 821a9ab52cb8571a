import { describe, expect, it } from "vitest";
import { type Coils, coilResponse } from "../../lib/earth/coil-response.js";
import { groundHalfSpace, skinDepth } from "../../lib/earth/half-space.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";
import { bruteForceCoils } from "./brute-force-coils.js";
import highPrecision from "./high-precision.json" with { type: "json" };

const ORIENTATIONS = ["HCP", "VCP", "PRP"] as const;

interface HighPrecision {
  readonly earth: { readonly conductivity_S_per_m: number[]; readonly thickness_m: number[] };
  readonly coils: Coils;
  readonly reading: { readonly inphase_ppm: number; readonly quadrature_ppm: number };
}

/** Both components within a share of the larger one. */
function expectReading(
  earth: { conductivity_S_per_m: number[]; thickness_m: number[] },
  coils: Coils,
  expected: { inphase: number; quadrature: number; share: number },
): void {
  const { inphase_ppm, quadrature_ppm } = coilResponse(earth, coils);
  const larger = Math.max(Math.abs(expected.inphase), Math.abs(expected.quadrature));
  expectClose(inphase_ppm, expected.inphase, { absolute: expected.share * larger });
  expectClose(quadrature_ppm, expected.quadrature, { absolute: expected.share * larger });
}

describe("coilResponse over a half-space", () => {
  it("agrees with the closed forms on the ground to 1e-6 over four decades and more", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      for (const separation_m of [0.5, 1.8, 10, 50]) {
        for (const frequency_Hz of [100, 4800, 100_000]) {
          for (const conductivity of [1e-4, 3e-3, 0.1, 5]) {
            const b = separation_m / skinDepth(conductivity, frequency_Hz);
            const { inphase_ppm, quadrature_ppm } = groundHalfSpace(orientation, b);
            expectReading(
              { conductivity_S_per_m: [conductivity], thickness_m: [] },
              { orientation, separation_m, frequency_Hz, height_m: 0 },
              { inphase: inphase_ppm, quadrature: quadrature_ppm, share: 1e-8 },
            );
          }
        }
      }
    }
  });

  it("agrees with the closed form of the perpendicular pair", () => {
    // x² [I₁(x/2) K₁(x/2) − I₂(x/2) K₂(x/2)], x = s sqrt(iωμ₀σ) (Ward & Hohmann 1988, after Wait);
    // s, f, σ, in-phase and quadrature by mpmath 1.3 with 30 digits (besseli, besselk).
    const table: [number, number, number, number, number][] = [
      [0.5, 100, 0.0001, 2.37744943224e-10, 0.00493480218142],
      [0.5, 100000, 5, 58152.2792375, 206414.724617],
      [1, 10000, 0.1, 12.9110506138, 1970.87026917],
      [1.8, 60000, 0.02, 155.26274458, 7628.81233515],
      [4, 9000, 0.3, 10547.2536896, 79971.7366061],
      [10, 1500, 0.05, 506.127435319, 14635.2942043],
      [10, 100000, 1, 545707.897975, -481000.647427],
      [50, 100, 5, 937300.359125, 496499.028318],
      [50, 9000, 0.01, 138480.658383, 325292.689475],
      [50, 100000, 5, 42738.2337642, -42673.3289868],
    ];
    for (const [separation_m, frequency_Hz, conductivity, inphase, quadrature] of table) {
      expectReading(
        { conductivity_S_per_m: [conductivity], thickness_m: [] },
        { orientation: "PRP", separation_m, frequency_Hz, height_m: 0 },
        // At B = 157 the rounded points leave 8e-8.
        { inphase, quadrature, share: 1e-7 },
      );
    }
  });

  it("gives the tabulated closed-form values", () => {
    // Methods, section 2 (calc, from the closed forms of Wait 1982); 7 digits.
    const table: [number, number, number, number[]][] = [
      [1, 10000, 0.1, [124.6499, 1841.772, 63.58645, 1907.811]],
      [4, 10000, 0.05, [2521.669, 12822.803, 1337.226, 14300.965]],
      [10, 6400, 0.2, [90630.775, 80924.51, 59986.199, 162185.634]],
      [10, 400, 0.02, [89.7595, 1484.558, 45.6896, 1531.827]],
    ];
    for (const [separation_m, frequency_Hz, conductivity, values] of table) {
      for (const [i, orientation] of (["HCP", "VCP"] as const).entries()) {
        expectReading(
          { conductivity_S_per_m: [conductivity], thickness_m: [] },
          { orientation, separation_m, frequency_Hz, height_m: 0 },
          { inphase: values[2 * i]!, quadrature: values[2 * i + 1]!, share: 6e-7 },
        );
      }
    }
  });

  it("tends to minus the primary field over a perfect conductor, and to 0 in free air", () => {
    const coils = { separation_m: 2, frequency_Hz: 1e5, height_m: 0 } as const;
    for (const orientation of ["HCP", "VCP"] as const) {
      const b = 2 / skinDepth(1e7, 1e5);
      const closed = groundHalfSpace(orientation, b);
      // HCP → −1, VCP → +1 (image of the dipole), with corrections of the order of 1/B.
      expectClose(closed.inphase_ppm, orientation === "HCP" ? -1e6 : 1e6, { absolute: 3e6 / b });
      const air = coilResponse(
        { conductivity_S_per_m: [0], thickness_m: [] },
        { ...coils, orientation },
      );
      expect(Math.abs(air.inphase_ppm) + Math.abs(air.quadrature_ppm)).toBe(0);
    }
  });
});

describe("coilResponse over layers", () => {
  it("gives the tabulated values", () => {
    // Methods, section 2 (calc, two roads); 7 digits, the last off by one in the last row's HCP
    // quadrature: mpmath gives 10593.6846.
    const table: [number[], number[], [number, number, number], number[]][] = [
      [[20], [], [1.5, 5000, 0.5], [12.87388, 355.6278, 6.46497, 230.7353]],
      [[50, 10], [1], [1.5, 20000, 0.5], [67.62866, 2059.723, 34.97479, 1514.795]],
      [[50, 10], [1], [4, 10000, 0], [383.8865, 4189.222, 214.1788, 7832.045]],
      [[10, 50], [1], [4, 10000, 0], [2197.667, 11633.77, 1141.298, 9548.908]],
      [
        [30, 80, 8],
        [1.5, 3.5],
        [4, 10000, 1],
        [1183.976, 10593.69, 623.0373, 7425.984],
      ],
    ];
    for (const [mS_per_m, thickness_m, [separation_m, frequency_Hz, height_m], values] of table) {
      const earth = { conductivity_S_per_m: mS_per_m.map((v) => v / 1000), thickness_m };
      for (const [i, orientation] of (["HCP", "VCP"] as const).entries()) {
        expectReading(
          earth,
          { orientation, separation_m, frequency_Hz, height_m },
          { inphase: values[2 * i]!, quadrature: values[2 * i + 1]!, share: 6e-7 },
        );
      }
    }
  });

  it("gives values computed with 25 digits between Bessel zeros and Shanks' transformation", () => {
    // mpmath 1.3: quad between the zeros of the Bessel function, shanks() on the partial sums.
    const table: [number[], number[], Coils, number, number][] = [
      [[0.3, 0.002, 0.08], [0.4, 2.5], ground("HCP", 2, 6e4), 6703.5511806, 14196.5488958],
      [[0.3, 0.002, 0.08], [0.4, 2.5], ground("VCP", 2, 6e4), 4349.22184074, 48238.5406368],
      [[0.3, 0.002, 0.08], [0.4, 2.5], ground("PRP", 2, 6e4), 3160.77798268, 54588.3983192],
      [[0.05, 0.01], [1], ground("PRP", 4, 1e4), 94.4921502663, 8797.64564505],
      [[0.1], [], ground("PRP", 1, 1e4), 12.9110506138, 1970.87026917],
    ];
    for (const [conductivity_S_per_m, thickness_m, coils, inphase, quadrature] of table) {
      const expected = { inphase, quadrature, share: 1e-8 };
      expectReading({ conductivity_S_per_m, thickness_m }, coils, expected);
    }
  });

  it("agrees with 24 drawn cases computed with 30 digits, on the ground and up to 2 m", () => {
    // high-precision.py beside this file, mpmath 1.3; separations 0.5–50 m, 100 Hz–100 kHz.
    for (const { earth, coils, reading } of highPrecision as readonly HighPrecision[]) {
      const { inphase_ppm: inphase, quadrature_ppm: quadrature } = reading;
      expectReading(earth, coils, { inphase, quadrature, share: 1e-7 });
    }
    expect(highPrecision).toHaveLength(24);
  });

  it("agrees with brute force on and above the ground, insulating and thin layers included", () => {
    const earths = [
      { conductivity_S_per_m: [0.02, 0.2, 0.005], thickness_m: [1, 3] },
      { conductivity_S_per_m: [0, 0.05], thickness_m: [0.5] },
      { conductivity_S_per_m: [0.5, 0.001, 2, 0.01], thickness_m: [0.2, 2, 0.1] },
    ];
    for (const earth of earths) {
      for (const height_m of [0, 0.1, 0.9, 2]) {
        for (const orientation of ORIENTATIONS) {
          for (const [separation_m, frequency_Hz] of [
            [0.5, 1500],
            [1.8, 60000],
            [20, 9000],
          ] as const) {
            const coils = { orientation, separation_m, frequency_Hz, height_m };
            const [inphase, quadrature] = bruteForceCoils(earth, coils);
            expectReading(earth, coils, { inphase, quadrature, share: 1e-6 });
          }
        }
      }
    }
  });

  it("does not see a boundary between like layers, nor order them by number", () => {
    const coils = {
      orientation: "HCP",
      separation_m: 2,
      frequency_Hz: 9000,
      height_m: 0.4,
    } as const;
    const one = coilResponse({ conductivity_S_per_m: [0.03], thickness_m: [] }, coils);
    const four = { conductivity_S_per_m: [0.03, 0.03, 0.03, 0.03], thickness_m: [0.3, 2, 7] };
    const { inphase_ppm: inphase, quadrature_ppm: quadrature } = one;
    expectReading(four, coils, { inphase, quadrature, share: 1e-13 });
  });

  it("depends on lengths and conductivity only through their scale", () => {
    // Twice every length and a quarter of every conductivity: the same induction numbers.
    const small = coilResponse(
      { conductivity_S_per_m: [0.08, 0.004], thickness_m: [1] },
      { orientation: "VCP", separation_m: 1, frequency_Hz: 9000, height_m: 0.5 },
    );
    const { inphase_ppm: inphase, quadrature_ppm: quadrature } = small;
    expectReading(
      { conductivity_S_per_m: [0.02, 0.001], thickness_m: [2] },
      { orientation: "VCP", separation_m: 2, frequency_Hz: 9000, height_m: 1 },
      { inphase, quadrature, share: 1e-13 },
    );
  });
});

describe("coilResponse and bad input", () => {
  const coils = { orientation: "HCP", separation_m: 1, frequency_Hz: 9000, height_m: 0 } as const;
  const faultsOf = (call: () => unknown) => {
    try {
      call();
    } catch (error) {
      if (error instanceof StepError)
        return error.faults.map((fault) => `${fault.code} ${fault.path}`);
    }
    return [];
  };

  it("names every fault at once", () => {
    const earth = { conductivity_S_per_m: [0.1, -1, Number.NaN], thickness_m: [1, 0, 2] };
    const bad = { orientation: "XYZ", separation_m: 0, frequency_Hz: Number.NaN, height_m: -1 };
    expect(faultsOf(() => coilResponse(earth, bad as unknown as Coils))).toEqual([
      "negative earth.conductivity_S_per_m[1]",
      "not-positive earth.thickness_m[1]",
      "layer-count earth.thickness_m",
      "orientation coils.orientation",
      "not-positive coils.separation_m",
      "not-positive coils.frequency_Hz",
      "negative coils.height_m",
    ]);
  });

  it("says the rule, the value and how many more break it", () => {
    const earth = { conductivity_S_per_m: [-1, -2], thickness_m: [1] };
    expect(() => coilResponse(earth, coils)).toThrow(
      "coilResponse: earth.conductivity_S_per_m[0] must be a finite number, 0 or above, got -1 " +
        "(and 1 more of 2)",
    );
  });

  it("refuses an earth without layers and things that are no lists", () => {
    const none = { conductivity_S_per_m: [], thickness_m: [] };
    expect(faultsOf(() => coilResponse(none, coils))).toEqual(["layer-count earth.thickness_m"]);
    const word = { conductivity_S_per_m: "0.1", thickness_m: [] } as unknown as typeof none;
    expect(faultsOf(() => coilResponse(word, coils))).toEqual([
      "not-a-list earth.conductivity_S_per_m",
    ]);
  });

  it("leaves frozen input alone", () => {
    const earth = Object.freeze({
      conductivity_S_per_m: Object.freeze([0.1, 0.2]),
      thickness_m: Object.freeze([1]),
    });
    expect(coilResponse(earth, Object.freeze({ ...coils })).quadrature_ppm).toBeGreaterThan(0);
  });
});

function ground(
  orientation: Coils["orientation"],
  separation_m: number,
  frequency_Hz: number,
): Coils {
  return { orientation, separation_m, frequency_Hz, height_m: 0 };
}
