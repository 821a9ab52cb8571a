import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { disturbed, type Rail } from "../../support/disturbed.js";

const ground = {
  length_m: 600,
  orientations: ["HCP", "VCP"],
  edges_m: [110, 420],
  conductors_m: [60, 480],
} as const;
const railAt = (seed: number): Rail => {
  return { from_m: 200, to_m: 240 + (seed % 6) * 20, size: 2.5 + (seed % 3) };
};

function overlap(one: { from_m: number; to_m: number }, other: { from_m: number; to_m: number }) {
  return Math.max(0, Math.min(one.to_m, other.to_m) - Math.max(one.from_m, other.from_m));
}

/** Every channel drifts by a slow wave of its own, and nothing was taken off. */
function withDrift(campaign: Campaign, size: number): Campaign {
  const passes = campaign.passes.map((pass, p) => ({
    ...pass,
    values: pass.values.map((column, c) => {
      const turn = 0.7 * c + 1.3 * p;
      return column.map((v, i) => v + size * Math.sin((2 * Math.PI * i) / pass.count + turn));
    }),
  }));
  return { ...campaign, passes };
}

describe("maskInterference beside an object along the line", () => {
  const seeds = Array.from({ length: 10 }, (_, k) => 40 + k);
  const runs = seeds.map((seed) => {
    const rail = railAt(seed);
    return { rail, ...maskInterference(disturbed({ seed, ...ground, rails: [rail] })) };
  });

  it("finds eight of ten rails that shift their stretch by 2.5 scatters and more", () => {
    const found = runs.filter(({ rail, value }) =>
      value.alongLine.some((one) => overlap(one, rail) > 0.7 * (rail.to_m - rail.from_m)),
    );
    expect(found.length).toBeGreaterThanOrEqual(8);
  });

  it("sets them aside, and says so", () => {
    for (const { value, cautions } of runs) {
      for (const { from_m, to_m } of value.alongLine) {
        const middle = (from_m + to_m) / 2;
        const stretch = value.interference.find((one) => one.from_m < middle && one.to_m > middle);
        expect(stretch).toMatchObject({ along: true, cause: "detected" });
        expect(value.causes.map(({ text }) => text).join()).toContain("Shifted as a whole");
        expect(cautions.map(({ text }) => text).join()).toContain("unlike any layered ground");
      }
    }
  });

  it("is not fooled by edges, narrow conductors, or drift that is left", () => {
    for (const seed of seeds.slice(0, 6)) {
      const campaign = disturbed({ seed, ...ground });
      expect(maskInterference(campaign).value.alongLine).toEqual([]);
      expect(maskInterference(withDrift(campaign, 60)).value.alongLine).toEqual([]);
    }
  });
});
