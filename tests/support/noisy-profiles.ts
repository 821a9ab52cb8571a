import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { makeDepthSlices } from "./depth-slices.js";

/** A seeded profile of correlated noise, with three boundaries or none. */
export interface NoisyProfile {
  readonly slices: DepthSlices;
  readonly boundaries_m: readonly number[];
}

/**
 * 400 stations 2 m apart, three slices. The scatter of 0.05 decades is correlated over 4 to 12 m
 * (1/e), half of it common to the slices; estimates add 0.02. Boundaries lie anywhere, at least 80 m
 * apart and from the ends; steps are of 0.06 to 0.16 decades either way, from hardly worth a
 * boundary to clear. Everything is drawn from the seed.
 */
export function noisyProfile(seed: number, boundaries: 0 | 3): NoisyProfile {
  const random = seededRandom(seed);
  const correlation_m = 4 + 8 * random.uniform();
  const boundaries_m: number[] = [];
  const levels = [1.6];
  for (let b = 0; b < boundaries; b++) {
    // Equal shares of what is left beyond the least distances, so that all places are open.
    const from = (boundaries_m.at(-1) ?? 0) + 80;
    const room = 800 - 80 * (boundaries - b) - from;
    boundaries_m.push(from + (room * random.uniform() * 2) / (boundaries - b + 1));
    const step = 0.06 + 0.1 * random.uniform();
    levels.push(levels.at(-1)! + (random.uniform() < 0.5 ? -step : step));
  }
  const truth = (x: number) => levels[boundaries_m.filter((edge) => x >= edge).length]!;
  return { slices: makeDepthSlices({ seed: seed + 0.5, correlation_m, truth }), boundaries_m };
}
