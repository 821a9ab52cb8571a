import type { Random } from "../../numerics/random.js";
import type { LayeredEarth } from "./earth-ensemble.js";
import { earthOfKind } from "./earth-of-kind.js";
import { KINDS } from "./kinds.js";
import { meanBetween } from "./layer-means.js";

export interface EarthPlan {
  /** Members asked for. */
  readonly count: number;
  /** Shares that kinds are tried in. */
  readonly shares: Float64Array;
  /** Earths that may explain a reading; others are tried and left out. */
  readonly reachable: (earth: LayeredEarth) => boolean;
  readonly random: Random;
}

/** Earths, and how many were tried of each kind. */
export interface TriedEarths {
  readonly earths: readonly LayeredEarth[];
  readonly tried: Float64Array;
}

/** Most trials for each member asked for. */
const MOST_TRIALS = 60;

/** Earths within reach of the readings, tried by the shares of their kinds. */
export function triedEarths({ count, shares, reachable, random }: EarthPlan): TriedEarths {
  const earths: LayeredEarth[] = [];
  const tried = new Float64Array(KINDS.length);
  for (let trial = 0; trial < MOST_TRIALS * count && earths.length < count; trial++) {
    const kind = pick(random, shares);
    const earth = earthOfKind(kind, random);
    tried[kind]! += 1;
    if (reachable(earth)) earths.push(earth);
  }
  return { earths, tried };
}

/**
 * Earths in the order of ln of the conductivity near the surface over that below it: one random
 * number then means like ground at all stations.
 */
export function inOrder(earths: readonly LayeredEarth[]): readonly LayeredEarth[] {
  return earths
    .map((earth) => ({ earth, contrast: meanBetween(earth, 0, 1.5) - meanBetween(earth, 1.5, 5) }))
    .sort((one, other) => one.contrast - other.contrast)
    .map(({ earth }) => earth);
}

/** A number from 0 on, drawn by its share. */
export function pick(random: Random, shares: Float64Array): number {
  let left = random.uniform();
  const index = shares.findIndex((share) => {
    left -= share;
    return left < 0;
  });
  return index < 0 ? shares.length - 1 : index;
}
