import { describe, expect, it } from "vitest";
import { lineProfiles } from "../../../lib/interference/anomaly/line-profiles.js";
import { METAL_FIT } from "../../../lib/interference/metal/match-metal.js";
import { scoreProfile } from "../../../lib/interference/metal/score-profile.js";
import { maskDefaults } from "../../../lib/interference/options.js";
import { type DisturbedSketch, disturbed } from "../../support/disturbed.js";

function looked(sketch: DisturbedSketch) {
  const [profile] = lineProfiles(disturbed({ length_m: 200, ...sketch }));
  const { match } = scoreProfile(profile!, maskDefaults.window_m);
  const order = Array.from(match.score.keys()).sort((a, b) => match.score[b]! - match.score[a]!);
  return { profile: profile!, ...match, best: order[0]! };
}

describe("matchMetal", () => {
  it("is highest over a piece of metal, which explains most of what is seen", () => {
    for (const seed of [1, 2]) {
      const orientation = seed % 2 === 0 ? "HCP" : "VCP";
      const sketch = {
        seed,
        metal: [{ at_m: 100, size: 6 }],
        orientations: [orientation],
      } as const;
      const { profile, score, fit, best } = looked(sketch);
      // Readings are 1.2 m apart with 0.2 m of scatter.
      expect(Math.abs(profile.chainage_m[best]! - 100)).toBeLessThan(1.6);
      expect(score[best]).toBeGreaterThan(maskDefaults.threshold);
      expect(fit[best]).toBeGreaterThan(METAL_FIT);
    }
  });

  it("stays below the threshold on undisturbed ground, an edge in it", () => {
    for (const seed of [11, 12]) {
      const { score, best } = looked({ seed, edges_m: [90] });
      expect(score[best]).toBeLessThan(maskDefaults.threshold);
    }
  });

  it("does not explain a burst of noise, however loud", () => {
    for (const seed of [21, 22]) {
      const bursts = [{ walk: 0, from_m: 90, to_m: 110, factor: 8 }];
      const { score, fit, best } = looked({ seed, bursts });
      expect(score[best]).toBeGreaterThan(maskDefaults.threshold);
      expect(fit[best]).toBeLessThan(METAL_FIT);
    }
  });

  it("passes over missing values", () => {
    const [profile] = lineProfiles(disturbed({ seed: 1, length_m: 60 }));
    const holed = {
      ...profile!,
      values: profile!.values.map((column) => column.map((v, i) => (i === 20 ? Number.NaN : v))),
    };
    const none = {
      ...profile!,
      values: profile!.values.map((column) => column.map(() => Number.NaN)),
    };
    expect(scoreProfile(holed, maskDefaults.window_m).match.score.every(Number.isFinite)).toBe(
      true,
    );
    expect(scoreProfile(none, maskDefaults.window_m).match.score.every(Number.isNaN)).toBe(true);
  });
});
