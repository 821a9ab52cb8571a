// Seeded lines of depth slices over grounds of many kinds, with sharp boundaries or none.
import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import { chance } from "../abroad/random.js";
import { makeDepthSlices } from "./depth-slices.js";

export const SMOOTH_KINDS = ["level", "trend", "smooth", "random walk"] as const;
export type GroundKind = "blocks" | (typeof SMOOTH_KINDS)[number];

export interface GroundLineSketch {
  readonly seed: number;
  readonly kind: GroundKind;
  /** Default: drawn from 2 to 30 m. */
  readonly reach_m?: number;
  /** Default 1000 m. */
  readonly length_m?: number;
}

export interface MadeLine {
  readonly slices: DepthSlices;
  readonly boundaries_m: readonly number[];
  readonly levels: readonly number[];
  readonly reach_m: number;
}

/** Scatter of the ground and of the estimates, decades. */
export const TEXTURE = 0.05;
export const NOISE = 0.02;
export const SPACING_M = 2;

/**
 * A kilometre of three slices. Blocks of 60 to 200 m with steps of 0.06 to 0.3 decades either way;
 * a trend by a factor of 2 to 4 over a kilometre; smooth swells of 0.1 to 0.25 decades over 200 to
 * 600 m; a random walk that strays 0.05 to 0.2 decades in 100 m. On all of them texture.
 */
export function groundLine(sketch: GroundLineSketch): MadeLine {
  const { seed, kind, length_m = 1000 } = sketch;
  const random = chance(seed, `ground/${kind}`);
  const reach_m = sketch.reach_m ?? 2 * 15 ** random.uniform();
  const boundaries_m: number[] = [];
  const levels = [1.6];
  let truth: (x: number) => number = () => 1.6;
  if (kind === "blocks") {
    for (let at = random.between(60, 200); at < length_m - 60; at += random.between(60, 200)) {
      boundaries_m.push(at);
      levels.push(levels.at(-1)! + random.sign() * random.between(0.06, 0.3));
    }
    truth = (x) => levels[boundaries_m.filter((edge) => x >= edge).length]!;
  } else if (kind === "trend") {
    const slope = (random.sign() * Math.log10(random.between(2, 4))) / 1000;
    truth = (x) => 1.6 + slope * x;
  } else if (kind === "smooth") {
    const waves = Array.from({ length: 3 }, () => ({
      size: random.between(0.1, 0.25) / Math.sqrt(3),
      period_m: random.between(200, 600),
      phase: 2 * Math.PI * random.uniform(),
    }));
    truth = (x) =>
      waves.reduce(
        (sum, { size, period_m, phase }) =>
          sum + size * Math.sin((2 * Math.PI * x) / period_m + phase),
        1.6,
      );
  } else if (kind === "random walk") {
    const stray = random.between(0.05, 0.2);
    const n = Math.ceil(length_m / SPACING_M) + 1;
    const walk = new Float64Array(n);
    for (let i = 1; i < n; i++) {
      walk[i] = walk[i - 1]! + stray * Math.sqrt(SPACING_M / 100) * random.normal();
    }
    truth = (x) => 1.6 + walk[Math.min(n - 1, Math.round(x / SPACING_M))]!;
  }
  const slices = makeDepthSlices({
    ...{ seed: seed + 0.5, truth, correlation_m: reach_m, texture: TEXTURE, sd: NOISE },
    ...{ stations: Math.round(length_m / SPACING_M), spacing_m: SPACING_M },
  });
  return { slices, boundaries_m, levels, reach_m };
}
