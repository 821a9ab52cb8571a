import { describe, expect, it } from "vitest";
import { metalFootprint, metalSpectrum } from "../../../lib/interference/metal/metal-shapes.js";
import { channelOf } from "../../support/campaign.js";

const coils = (orientation: "HCP" | "VCP" | "PRP") => ({ orientation, separation_m: 1.8 });
const at = (along_m: number, aside_m = 0) => ({ along_m, aside_m, below_m: 1.1 });

describe("metalFootprint", () => {
  // Fields of two dipoles written out by hand for a point below the middle of the coils:
  // r² = s²/4 + z²; VCP 1/r⁶; HCP [(3z² − r²)² − 9 z² s²/4]/r¹⁰.
  const [s, z] = [1.8, 1.1];
  const square = (s * s) / 4 + z * z;

  it("is the product of two dipoles' fields below the middle", () => {
    expect(metalFootprint(coils("VCP"), at(0))).toBeCloseTo(1 / square ** 3, 12);
    const upright = ((3 * z * z - square) ** 2 - (9 * z * z * s * s) / 4) / square ** 5;
    expect(metalFootprint(coils("HCP"), at(0))).toBeCloseTo(upright, 12);
  });

  it("is alike before and behind where both coils stand alike", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const [before, behind] = [at(-1.3, 0.4), at(1.3, 0.4)].map((place) =>
        metalFootprint(coils(orientation), place),
      );
      expect(before).toBeCloseTo(behind!, 12);
    }
  });

  it("is that of an upright and a lying coil too", () => {
    // Sender upright, receiver along the line: 1.5 s z (3 z² − 0.75 s²)/r¹⁰.
    const mixed = (1.5 * s * z * (3 * z * z - 0.75 * s * s)) / square ** 5;
    expect(metalFootprint(coils("PRP"), at(0))).toBeCloseTo(mixed, 12);
  });

  it("falls by the sixth power of a great distance", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const [near, far] = [50, 100].map((along_m) =>
        metalFootprint(coils(orientation), at(along_m)),
      );
      // The coils and the depth are a fiftieth of the distance: their squares leave about 1 %.
      expect(near! / far! / 64).toBeGreaterThan(0.98);
      expect(near! / far! / 64).toBeLessThan(1.02);
    }
  });
});

describe("metalSpectrum", () => {
  const channel = (kind: "inphase" | "quadrature", frequency_Hz = 10_000) =>
    channelOf({ kind, frequency_Hz, orientation: "HCP", separation_m: 1.8 });

  it("parts evenly where frequency and decay time meet", () => {
    const decay_s = 1 / (2 * Math.PI * 10_000);
    expect(metalSpectrum(channel("inphase"), decay_s)).toBeCloseTo(0.5, 12);
    expect(metalSpectrum(channel("quadrature"), decay_s)).toBeCloseTo(0.5, 12);
  });

  it("is in phase alone without end of the decay", () => {
    expect(metalSpectrum(channel("inphase"), Number.POSITIVE_INFINITY)).toBe(1);
    expect(metalSpectrum(channel("quadrature"), Number.POSITIVE_INFINITY)).toBe(0);
  });

  it("goes over into the channel's unit", () => {
    const one = channel("quadrature");
    const shown = { ...one, kind: "conductivity", unit: "mS/m" } as const;
    // Low-induction conductivity, McNeill 1980: 4 Im / (ω μ0 s²), mS/m for ppm.
    const factor = (4 * 1e-3) / (2 * Math.PI * 10_000 * 4e-7 * Math.PI * 1.8 ** 2);
    const ratio = metalSpectrum(shown, 1e-5) / metalSpectrum(one, 1e-5);
    // The magnetic constant of 2018 differs from 4π × 10⁻⁷ by 5e-10.
    expect(ratio / factor).toBeCloseTo(1, 8);
  });
});
