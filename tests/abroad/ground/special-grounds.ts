import type { Chance } from "../random.js";
import { type Ground, type LayerSketch, layeredGround } from "./layered-ground.js";
import { constant, cuts, type Profile, randomWalk, scaled, stepped } from "./profiles.js";

/** Fill that holds, stretch by stretch, 0.3 m of 8 ohm-m, 0.4 m of 300, or neither. */
export function thinLayers(random: Chance, length_m: number): Ground {
  const boundaries_m = cuts(random, length_m);
  const first = Math.floor(3 * random.uniform());
  // Each stretch holds another than the one before: every boundary is one.
  const holds = [...boundaries_m, 0].map((_, p) => (first + p) % 3);
  const there = (which: number, thickness_m: number) =>
    sharp(
      boundaries_m,
      holds.map((one) => (one === which ? thickness_m : 0)),
    );
  const fill = random.between(1.4, 1.8);
  const layers: LayerSketch[] = [
    { thickness_m: constant(random.between(0.7, 1.6)), log10: constant(fill), texture: 0.05 },
    { thickness_m: there(1, 0.3), log10: constant(Math.log10(8)), texture: 0.05 },
    { thickness_m: there(2, 0.4), log10: constant(Math.log10(300)), texture: 0.05 },
    { thickness_m: constant(random.between(1.5, 2.5)), log10: constant(fill), texture: 0.05 },
    { thickness_m: constant(0), log10: constant(random.between(1.2, 1.9)), texture: 0.05 },
  ];
  return layeredGround(random, { kind: "thin layers", length_m, boundaries_m, layers });
}

const sharp = (boundaries_m: readonly number[], levels: readonly number[]): Profile =>
  stepped(boundaries_m, levels, 0.5);

/** A fill of 30 to 80 ohm-m over a foundation of 1.5 to 3 ohm-m, which lies deeper in every other stretch. */
export function salineFoundation(random: Chance, length_m: number): Ground {
  const boundaries_m = cuts(random, length_m);
  const shallow_m = random.between(2.2, 3);
  const deep_m = shallow_m + random.between(0.6, 1.6);
  const depths = [...boundaries_m, 0].map((_, p) => (p % 2 === 0 ? shallow_m : deep_m));
  const salt = Math.log10(random.between(1.5, 3));
  const top_m = random.between(0.6, 1);
  const fill = Math.log10(random.between(30, 80));
  const layers: LayerSketch[] = [
    { thickness_m: constant(top_m), log10: constant(fill + 0.15), texture: 0.06 },
    {
      thickness_m: stepped(
        boundaries_m,
        depths.map((depth) => depth - top_m),
        8,
      ),
      log10: constant(fill),
      texture: 0.06,
    },
    { thickness_m: constant(0), log10: constant(salt), texture: 0.05 },
  ];
  return layeredGround(random, { kind: "saline foundation", length_m, boundaries_m, layers });
}

/** Clay fill on peat of 1 to 2.5 m, which is missing in every other stretch, on sand. */
export function peat(random: Chance, length_m: number): Ground {
  const boundaries_m = cuts(random, length_m);
  const skip = random.uniform() < 0.5 ? 0 : 1;
  const thick = [...boundaries_m, 0].map((_, p) => (p % 2 === skip ? 0 : random.between(1, 2.5)));
  const settled = scaled(0.05, randomWalk(random, length_m));
  const fill_m = random.between(1.2, 2);
  const layers: LayerSketch[] = [
    {
      thickness_m: (x) => fill_m * Math.exp(settled(x)),
      log10: constant(random.between(1.25, 1.45)),
      texture: 0.05,
    },
    {
      thickness_m: stepped(boundaries_m, thick, 10),
      log10: constant(random.between(0.8, 1.05)),
      texture: 0.05,
    },
    { thickness_m: constant(0), log10: constant(random.between(1.7, 2.1)), texture: 0.06 },
  ];
  return layeredGround(random, { kind: "peat", length_m, boundaries_m, layers });
}
