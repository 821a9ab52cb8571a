import { type Chance, chance } from "../random.js";
import { type Ground, layeredGround } from "./layered-ground.js";
import { constant, cuts, type Profile, randomWalk, scaled, stepped, sum } from "./profiles.js";
import { peat, salineFoundation, thinLayers } from "./special-grounds.js";

export interface GroundOptions {
  readonly seed: number;
  readonly length_m: number;
}

type Maker = (random: Chance, length_m: number) => Ground;

/** Stretches of like ground: three layers, each with a level of its own in every stretch. */
function blocks(random: Chance, length_m: number): Ground {
  const boundaries_m = cuts(random, length_m);
  const transition_m = random.between(1, 6);
  const along = (draw: () => number) =>
    stepped(boundaries_m, [...boundaries_m, 0].map(draw), transition_m);
  const layers = [1.2, 1.6, 1.5].map((middle, k) => ({
    thickness_m: along(() => (k === 0 ? random.between(0.6, 1.4) : random.between(1.2, 2.6))),
    log10: along(() => middle + 0.25 * random.normal()),
    texture: 0.06,
  }));
  return layeredGround(random, { kind: "blocks", length_m, boundaries_m, layers });
}

/** Resistivity that drifts by a factor of 3 over a kilometre, up or down, with no boundary. */
function gradational(random: Chance, length_m: number): Ground {
  const slope = (random.sign() * Math.log10(3)) / 1000;
  const drift: Profile = (x) => slope * (x - length_m / 2);
  const layers = [1.3, 1.5, 1.7].map((middle, k) => ({
    thickness_m: constant(k === 0 ? random.between(0.6, 1.4) : random.between(1.2, 2.6)),
    log10: sum(constant(middle + 0.15 * random.normal()), drift),
    texture: 0.06,
  }));
  return layeredGround(random, { kind: "gradational", length_m, layers });
}

/** Levels and thicknesses that walk at random. */
function walking(random: Chance, length_m: number): Ground {
  const common = randomWalk(random, length_m);
  const layers = [1.4, 1.6, 1.5].map((middle, k) => {
    const thick_m = k === 0 ? random.between(0.6, 1.4) : random.between(1.2, 2.6);
    const own = scaled(0.1, randomWalk(random, length_m));
    const swell = scaled(0.1, randomWalk(random, length_m));
    return {
      thickness_m: (x: number) => thick_m * Math.exp(swell(x)),
      log10: sum(constant(middle + 0.15 * random.normal()), scaled(0.1, common), own),
      texture: 0.03,
    };
  });
  return layeredGround(random, { kind: "random walk", length_m, layers });
}

/** A dried crest of 300 to 1000 ohm-m over clay of 10. */
function dryCrest(random: Chance, length_m: number): Ground {
  const swell = scaled(0.15, randomWalk(random, length_m));
  const thick_m = random.between(0.7, 1.4);
  const crest = {
    thickness_m: (x: number) => Math.min(2, Math.max(0.4, thick_m + swell(x))),
    log10: constant(Math.log10(300) + random.uniform() * Math.log10(1000 / 300)),
    texture: 0.1,
  };
  const clay = { thickness_m: constant(0), log10: constant(1), texture: 0.04 };
  return layeredGround(random, { kind: "dry crest", length_m, layers: [crest, clay] });
}

const MAKERS = {
  blocks,
  gradational,
  "random walk": walking,
  "thin layers": thinLayers,
  "dry crest": dryCrest,
  "saline foundation": salineFoundation,
  peat,
} satisfies Readonly<Record<string, Maker>>;

export type GroundKind = keyof typeof MAKERS;

export const GROUND_KINDS = Object.freeze(Object.keys(MAKERS)) as readonly GroundKind[];

/** A bank of a kind; the same seed gives the same bank. */
export function makeGround(kind: GroundKind, { seed, length_m }: GroundOptions): Ground {
  return MAKERS[kind](chance(seed, `ground/${kind}`), length_m);
}
