import { valueAt } from "../../numerics/arrays.js";
import type { LayeredEarth } from "./earth-ensemble.js";
import type { EarthSource } from "./earth-source.js";
import { KINDS } from "./kinds.js";
import { meanBetween } from "./layer-means.js";

export interface EarthPlan {
  /** Members asked for. */
  readonly count: number;
  /** Shares that kinds are tried in. */
  readonly shares: Float64Array;
  /** Earths that may explain a reading; others are tried and left out. */
  readonly reachable: (earth: LayeredEarth) => boolean;
  readonly source: EarthSource;
}

/** Earths, and how many were tried of each kind. */
export interface TriedEarths {
  readonly earths: readonly LayeredEarth[];
  readonly tried: Float64Array;
}

/** Most trials for each member asked for. */
const MOST_TRIALS = 60;
/** Multiples of it, less their whole parts, fill 0 to 1 evenly at any number. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Earths within reach of the readings; kinds are tried evenly by their shares. */
export function triedEarths({ count, shares, reachable, source }: EarthPlan): TriedEarths {
  const earths: LayeredEarth[] = [];
  const tried = new Float64Array(KINDS.length);
  for (let trial = 1; trial <= MOST_TRIALS * count && earths.length < count; trial++) {
    const kind = pick((trial * GOLDEN) % 1, shares);
    const earth = source.next(kind);
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

/** The number, from 0 on, whose share holds a place between 0 and 1. */
function pick(place: number, shares: Float64Array): number {
  let left = place;
  for (let at = 0; at + 1 < shares.length; at++) {
    left -= valueAt(shares, at);
    if (left < 0) return at;
  }
  return shares.length - 1;
}
