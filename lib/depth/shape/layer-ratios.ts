import type { CoilGeometry } from "../../earth/coil-quadrature.js";
import { embankmentCoilSensitivities } from "../../earth/embankment/embankment-coil-sensitivity.js";
import type { EmbankmentShape } from "../../earth/embankment/shape.js";
import { cumulativeResponse } from "../../earth/half-space.js";
import { itemAt } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";

/** A coil pair's response to the ground between two depths on a bank over that on level ground. */
export type LayerRatio = (top_m: number, base_m: number) => number;

/** Depths at which the bank's part is computed, m; beyond the last it fades as 1 / depth. */
const DEPTHS_M = [0, 0.15, 0.35, 0.6, 0.9, 1.3, 1.8, 2.4, 3.2, 4.2, 5.5, 7.5, 11, 18, 40];
/** Straight lines between depths hold best on this scale: ln(depth + …), m. */
const SCALE_M = 0.7;

/** By coil pair, for one cross-section. Low induction numbers; see `embankmentCoilFactor`. */
export function layerRatios(
  shape: EmbankmentShape,
  pairs: readonly CoilGeometry[],
): readonly LayerRatio[] {
  const depths_m = [...new Set([...DEPTHS_M, shape.height_m])].sort((a, b) => a - b);
  const at = depths_m.map(scaled);
  return embankmentCoilSensitivities(shape, pairs, depths_m).map(({ bank, flat }, p) => {
    const { orientation, separation_m, height_m } = itemAt(pairs, p);
    const more = addedBelow(bank, flat);
    const level = (z: number) => cumulativeResponse(orientation, (z + height_m) / separation_m);
    const added = (z: number) => addedAt({ depths_m, at, more }, z);
    return (top_m, base_m) => {
      const part = level(top_m) - level(base_m);
      // A part too thin for a number is left as on level ground.
      return part > 0 ? 1 + (added(top_m) - added(base_m)) / part : 1;
    };
  });
}

const scaled = (depth_m: number) => Math.log(depth_m + SCALE_M);

interface Added {
  readonly depths_m: readonly number[];
  readonly at: readonly number[];
  readonly more: Float64Array;
}

function addedAt({ depths_m, at, more }: Added, depth_m: number): number {
  const last = itemAt(depths_m, depths_m.length - 1);
  if (depth_m > last) return (itemAt(more, more.length - 1) * last) / depth_m;
  return linearBetween(at, more, scaled(depth_m));
}

/** Below each depth, what the bank has more than level ground. */
function addedBelow(bank: Float64Array, flat: Float64Array): Float64Array {
  const below = new Float64Array(bank.length);
  for (let j = bank.length - 1, sum = 0; j >= 0; j--) {
    sum += itemAt(bank, j) - itemAt(flat, j);
    below[j] = sum;
  }
  return below;
}
