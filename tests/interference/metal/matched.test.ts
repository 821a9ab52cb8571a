import { describe, expect, it } from "vitest";
import { FITS } from "../../../lib/interference/metal/matched.js";
import { scoreTrack } from "../../../lib/interference/metal/score.js";
import { tracksOf } from "../../../lib/interference/metal/tracks.js";
import { maskDefaults } from "../../../lib/interference/options.js";
import { type DisturbedSketch, disturbed } from "../../support/disturbed.js";

function looked(sketch: DisturbedSketch) {
  const [track] = tracksOf(disturbed({ length_m: 200, ...sketch }));
  const { metal } = scoreTrack(track!, maskDefaults);
  const order = Array.from(metal.score.keys()).sort((a, b) => metal.score[b]! - metal.score[a]!);
  return { track: track!, ...metal, best: order[0]! };
}

describe("matched", () => {
  it("is highest over a piece of metal, which explains most of what is seen", () => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const orientation = seed % 2 === 0 ? "HCP" : "VCP";
      const sketch = {
        seed,
        metal: [{ at_m: 100, size: 6 }],
        orientations: [orientation],
      } as const;
      const { track, score, fit, best } = looked(sketch);
      // Readings are 1.2 m apart with 0.2 m of scatter.
      expect(Math.abs(track.chainage_m[best]! - 100)).toBeLessThan(1.6);
      expect(score[best]).toBeGreaterThan(maskDefaults.threshold);
      expect(fit[best]).toBeGreaterThan(FITS);
    }
  });

  it("stays below the threshold on undisturbed ground, an edge in it", () => {
    for (const seed of [11, 12, 13, 14, 15, 16]) {
      const { score, best } = looked({ seed, edges_m: [90] });
      expect(score[best]).toBeLessThan(maskDefaults.threshold);
    }
  });

  it("does not explain a burst of noise, however loud", () => {
    for (const seed of [21, 22, 23, 24]) {
      const bursts = [{ walk: 0, from_m: 90, to_m: 110, factor: 8 }];
      const { score, fit, best } = looked({ seed, bursts });
      expect(score[best]).toBeGreaterThan(maskDefaults.threshold);
      expect(fit[best]).toBeLessThan(FITS);
    }
  });

  it("passes over missing values", () => {
    const [track] = tracksOf(disturbed({ seed: 1, length_m: 60 }));
    const holed = {
      ...track!,
      values: track!.values.map((column) => column.map((v, i) => (i === 20 ? Number.NaN : v))),
    };
    const none = { ...track!, values: track!.values.map((column) => column.map(() => Number.NaN)) };
    expect(scoreTrack(holed, maskDefaults).metal.score.every(Number.isFinite)).toBe(true);
    expect(scoreTrack(none, maskDefaults).metal.score.every(Number.isNaN)).toBe(true);
  });
});
