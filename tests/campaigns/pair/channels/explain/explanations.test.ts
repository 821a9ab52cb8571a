import { describe, expect, it } from "vitest";
import { explanations } from "../../../../../lib/campaigns/pair/channels/explain/explanations.js";
import type { StretchData } from "../../../../../lib/campaigns/pair/channels/explain/stretch-data.js";
import { changeProfiles } from "../../../../../lib/campaigns/pair/channels/ratio/change-profiles.js";
import { profileResponse } from "../../../../../lib/campaigns/pair/channels/ratio/profile-likelihood.js";
import { lowInductionQuadrature } from "../../../../../lib/earth/half-space.js";
import { expectClose } from "../../../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1, 1.5, 2, 3, 4, 5.5);
const separations_m = [1, 2, 4];
const HEIGHT_M = 0.3;
const NOISE_PPM = 10;

/** Share of an HCP pair's response that lies below a depth (McNeill 1980), coils at a height. */
const below = (depth_m: number, s: number, height_m: number) => {
  const z = (depth_m + height_m) / s;
  return Math.sqrt(4 * z * z + 1) - 2 * z;
};

/** Three pairs over 25 mS/m: derivatives by layer and to the height, over the noise. */
function stretch(value: Float64Array): StretchData {
  const all = separations_m.map((s) => {
    const coils = {
      orientation: "HCP",
      separation_m: s,
      frequency_Hz: 10_000,
      height_m: 0,
    } as const;
    return lowInductionQuadrature(0.025, coils) / NOISE_PPM;
  });
  const m = top_m.length;
  const byLayer = Float64Array.from({ length: 3 * m }, (_, at) => {
    const [c, j] = [Math.floor(at / m), at % m];
    const s = separations_m[c]!;
    const next = j + 1 < m ? below(top_m[j + 1]!, s, HEIGHT_M) : 0;
    return all[c]! * (below(top_m[j]!, s, HEIGHT_M) - next);
  });
  const at = (h: number, c: number) => all[c]! * below(0, separations_m[c]!, HEIGHT_M + h);
  const slope = (c: number) => (at(0.1, c) - at(-0.1, c)) / 0.2;
  const bend = (c: number) => (at(0.1, c) + at(-0.1, c) - 2 * at(0, c)) / 0.02;
  return {
    index: Int32Array.of(0, 1, 2),
    value,
    covariance: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
    byLayer,
    layers: m,
    first: Float64Array.from([0, 1, 2], slope),
    second: Float64Array.from([0, 1, 2], bend),
    ppm: new Float64Array(3).fill(1 / NOISE_PPM),
    pass: new Int32Array(3),
  };
}

const profiles = changeProfiles(top_m);
const told = (value: Float64Array) =>
  explanations(stretch(value), profiles, { passes: 1, channels: 3 });
const bare = stretch(new Float64Array(3));

describe("what explains a stretch", () => {
  it("is the height where coils were carried higher, and says how much", () => {
    const h = 0.1;
    const lifted = bare.first.map((one, c) => h * one + h * h * bare.second[c]!);
    const { ground, height, zero } = told(lifted);
    expect(height.evidence).toBeGreaterThan(ground + 2);
    expect(height.evidence).toBeGreaterThan(zero.evidence + 2);
    expectClose(height.value[0]!, h, { absolute: 0.005 });
  });

  it("is the ground where it changed below the top", () => {
    const share = top_m.map((top) => (top >= 1 && top < 3 ? 1 : 0));
    const { ground, height, zero } = told(profileResponse(bare, share, Math.log(1.5)));
    expect(ground).toBeGreaterThan(height.evidence + 3);
    expect(ground).toBeGreaterThan(zero.evidence + 3);
  });

  it("is a zero where one channel alone is off", () => {
    const { ground, height, zero } = told(Float64Array.of(0, 4, 0));
    expect(zero.evidence).toBeGreaterThan(ground + 2);
    expect(zero.evidence).toBeGreaterThan(height.evidence + 2);
    // 4 noises of 10 ppm, drawn to 0 by a prior of 25 ppm: 40 × 625 / 725.
    expectClose(zero.value[1]!, 34.5, { absolute: 0.1 });
  });

  it("is nothing where there is no difference", () => {
    const { ground, height, zero } = told(new Float64Array(3));
    for (const evidence of [ground, height.evidence, zero.evidence]) {
      expect(evidence).toBeLessThan(0);
    }
  });
});
