import { describe, expect, it } from "vitest";
import { metalSpectrum } from "../../../lib/interference/metal/metal-spectrum.js";
import { channelOf } from "../../support/campaign.js";

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
