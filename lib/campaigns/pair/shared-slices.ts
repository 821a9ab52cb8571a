import type { DepthSlices, Slice } from "../../depth/depth-slices.js";
import { sliceWeights } from "../../depth/slices/slice-weights.js";
import { itemAt } from "../../numerics/arrays.js";
import { type DepthRange, sameDepths } from "../ranges.js";

/**
 * The slices of the two campaigns that have the same depths and are reliable in both. Where none
 * is, the earlier campaign's reliable slices down to the shallower reliable depth: they have to be
 * averaged again from the layers of both.
 */
export function sharedSlices(
  earlier: DepthSlices,
  later: DepthSlices,
): { readonly slices: readonly DepthRange[]; readonly resliced: boolean } {
  const reliable = earlier.slices.filter((slice) => slice.reliable);
  const same = reliable.filter((slice) => indexIn(later, slice) >= 0);
  if (same.length > 0) return { slices: same.map(depths), resliced: false };
  const deepest = Math.min(earlier.reliableTo_m, later.reliableTo_m);
  const within = reliable.filter((slice) => slice.base_m <= deepest + 1e-6);
  return { slices: within.map(depths), resliced: within.length > 0 };
}

export interface SliceColumn {
  /** n values of log10(ohm-m). */
  readonly value: Float64Array;
  /** n standard deviations of a repeat. */
  readonly sd: Float64Array;
  /** The averaging kernel: for each of the shared slices n values; null where not given. */
  readonly averaging: readonly Float64Array[] | null;
}

/** A campaign's columns for each of the slices. */
export function sliceColumns(
  given: DepthSlices,
  slices: readonly DepthRange[],
  resliced: boolean,
): readonly SliceColumn[] {
  if (resliced) return layerMeans(given, slices);
  const { log10Resistivity, sd, repeatSd = sd, averaging } = given;
  const own = slices.map((slice) => indexIn(given, slice));
  return own.map((k) => ({
    value: itemAt(log10Resistivity, k),
    sd: itemAt(repeatSd, k),
    averaging: averaging ? own.map((b) => itemAt(itemAt(averaging, k), b)) : null,
  }));
}

/** Thickness-weighted means over layers, whose errors are taken for fully correlated. */
function layerMeans(given: DepthSlices, slices: readonly DepthRange[]): SliceColumn[] {
  const { top_m, log10Resistivity, sd } = given.layers;
  const m = top_m.length;
  return sliceWeights(top_m, slices).map((weights) => {
    const mean = (layers: Float64Array) =>
      given.chainage_m.map((_, i) =>
        weights.reduce((sum, w, j) => sum + (w > 0 ? w * itemAt(layers, i * m + j) : 0), 0),
      );
    return { value: mean(log10Resistivity), sd: mean(sd), averaging: null };
  });
}

const depths = ({ top_m, base_m }: Slice): DepthRange => ({ top_m, base_m });

/** The reliable slice of those depths; −1 where there is none. */
const indexIn = ({ slices }: DepthSlices, slice: DepthRange) =>
  slices.findIndex((other) => other.reliable && sameDepths(slice, other));
