import { describe, expect, it } from "vitest";
import { coilResponse } from "../../../lib/earth/coil-response.js";
import { groundCovariance } from "../../../lib/interference/anomaly/ground-covariance.js";
import { lineProfiles } from "../../../lib/interference/anomaly/line-profiles.js";
import { whitener } from "../../../lib/interference/anomaly/whitener.js";
import { disturbed, noiseSd, tenChannels } from "../../support/disturbed.js";

describe("groundCovariance", () => {
  const channels = tenChannels("HCP");
  const [profile] = lineProfiles(disturbed({ seed: 9, length_m: 200 }));
  const covariance = groundCovariance(profile!);

  const response = (top: number, below: number, height_m = 0.9) =>
    Float64Array.from(channels, (channel) => {
      const earth = { conductivity_S_per_m: [top, below], thickness_m: [1.2] };
      const { inphase_ppm, quadrature_ppm } = coilResponse(earth, { ...channel, height_m });
      return channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
    });
  const rest = response(0.03, 0.04);
  const sd = Float64Array.from(channels, (channel, c) => noiseSd(channel, rest[c]!));

  /** Share of an anomaly, in squares of noise, that noise has to explain. */
  const unexplained = (anomaly: Float64Array) => {
    const inNoises = anomaly.map((value, c) => value / sd[c]!);
    const white = whitener(covariance, sd, new Uint8Array(10).fill(1)).whiten(inNoises);
    const square = (vector: Float64Array) => vector.reduce((sum, value) => sum + value * value, 0);
    return square(white) / square(inNoises);
  };
  const change = (other: Float64Array) => other.map((value, c) => value - rest[c]!);

  it("is symmetric", () => {
    for (let a = 0; a < 10; a++) {
      for (let b = 0; b < a; b++)
        expect(covariance[a * 10 + b]).toBeCloseTo(covariance[b * 10 + a]!, 6);
    }
  });

  it("explains changes of the upper and the lower ground, and of the coils' height", () => {
    // 5 % is the share that `maskInterference` takes for metal by default.
    expect(unexplained(change(response(0.04, 0.04)))).toBeLessThan(0.05);
    expect(unexplained(change(response(0.03, 0.055)))).toBeLessThan(0.05);
    expect(unexplained(change(response(0.03, 0.04, 1)))).toBeLessThan(0.05);
  });

  it("explains neither an in-phase shift equal in all frequencies nor a falling quadrature", () => {
    const kinds = channels.map(({ kind }) => kind);
    const shift = Float64Array.from(kinds, (kind) => (kind === "inphase" ? 200 : 0));
    expect(unexplained(shift)).toBeGreaterThan(0.25);
    const falling = Float64Array.from(channels, ({ kind, frequency_Hz }) =>
      kind === "quadrature" ? 1e5 / frequency_Hz : 0,
    );
    expect(unexplained(falling)).toBeGreaterThan(0.25);
  });
});
