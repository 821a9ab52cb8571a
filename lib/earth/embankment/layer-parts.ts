import { itemAt, lastOf } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import type { CoilGeometry } from "../coil-quadrature.js";
import { cumulativeResponse } from "../half-space.js";
import { embankmentCoilSensitivities } from "./embankment-coil-sensitivity.js";
import type { EmbankmentShape } from "./shape.js";

/**
 * What a coil pair takes from below a depth of homogeneous ground at low induction numbers, in units
 * of all of level ground under coils on it.
 */
export interface PartsBelow {
  level(depth_m: number): number;
  bank(depth_m: number): number;
}

/** Depths at which the bank's part is computed, m; beyond the last it fades as 1 / depth. */
const DEPTHS_M = [0, 0.15, 0.35, 0.6, 0.9, 1.3, 1.8, 2.4, 3.2, 4.2, 5.5, 7.5, 11, 18, 40];
/** Straight lines between depths hold best on this scale: ln(depth + …), m. */
const SCALE_M = 0.7;

// The charges on the slopes take a tenth of a second, and campaigns share shape and coils.
const remembered = new Remembered<readonly PartsBelow[]>(16);

/**
 * By coil pair, for one cross-section; see `embankmentCoilFactor`. Every different pair is worked out
 * once, together with those of `among`: steps that name the same ones share the work.
 */
export function partsBelow(
  shape: EmbankmentShape,
  pairs: readonly CoilGeometry[],
  among: readonly CoilGeometry[] = [],
): readonly PartsBelow[] {
  const different = new Map([...pairs, ...among].map((pair) => [keyOf(pair), pair]));
  const unique = [...different.keys()].sort();
  const { crestWidth_m, height_m, watersideSlope, landsideSlope, offset_m } = shape;
  const section = [crestWidth_m, height_m, watersideSlope, landsideSlope, offset_m];
  const parts = remembered.get(JSON.stringify([section, unique]), () =>
    computed(
      shape,
      unique.map((key) => different.get(key)!),
    ),
  );
  return pairs.map((pair) => itemAt(parts, unique.indexOf(keyOf(pair))));
}

const keyOf = ({ orientation, separation_m, height_m }: CoilGeometry) =>
  [orientation, separation_m, height_m].join(" ");

function computed(shape: EmbankmentShape, pairs: readonly CoilGeometry[]): readonly PartsBelow[] {
  const depths_m = [...new Set([...DEPTHS_M, shape.height_m])].sort((a, b) => a - b);
  const at = depths_m.map(scaled);
  const deepest_m = lastOf(depths_m);
  return embankmentCoilSensitivities(shape, pairs, depths_m).map(({ bank, flat }, p) => {
    const { orientation, separation_m, height_m } = itemAt(pairs, p);
    const more = addedBelow(bank, flat);
    const added = (depth_m: number) =>
      depth_m > deepest_m
        ? (lastOf(more) * deepest_m) / depth_m
        : linearBetween(at, more, scaled(depth_m));
    const level = (depth_m: number) =>
      cumulativeResponse(orientation, (depth_m + height_m) / separation_m);
    return { level, bank: (depth_m) => level(depth_m) + added(depth_m) };
  });
}

const scaled = (depth_m: number) => Math.log(depth_m + SCALE_M);

/** Below each depth, what the bank has more than level ground. */
function addedBelow(bank: Float64Array, flat: Float64Array): Float64Array {
  const below = new Float64Array(bank.length);
  for (let j = bank.length - 1, sum = 0; j >= 0; j--) {
    sum += itemAt(bank, j) - itemAt(flat, j);
    below[j] = sum;
  }
  return below;
}

/** The parts of m layers for c channels, c × m row by channel. */
export interface LayerParts {
  readonly level: Float64Array;
  readonly bank: Float64Array;
}

export function layerParts(below: readonly PartsBelow[], top_m: ArrayLike<number>): LayerParts {
  const m = top_m.length;
  const between = (of: keyof PartsBelow) =>
    Float64Array.from({ length: below.length * m }, (_, at) => {
      const channel = itemAt(below, Math.floor(at / m));
      const base_m = top_m[(at % m) + 1];
      const left = base_m === undefined ? 0 : channel[of](base_m);
      return channel[of](itemAt(top_m, at % m)) - left;
    });
  return { level: between("level"), bank: between("bank") };
}
