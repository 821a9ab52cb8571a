import type { Slice } from "../depth-slices.js";

/** Whether the data resolve a slice's mean log resistivity, also from that of the slice above. */
export type SliceKnown = (slice: SliceDepths, above: SliceDepths | undefined) => boolean;

/**
 * Slices as thin as the data allow, from the surface down: each is deepened layer by layer until
 * its mean log resistivity is resolved, then the next begins. The last is followed by one that
 * never is, or there are as many slices as independent levels (`most`). Empty where not even the
 * whole column is resolved.
 */
export function chooseSlices(
  top_m: ArrayLike<number>,
  known: SliceKnown,
  most: number,
): readonly Slice[] {
  const slices: Slice[] = [];
  let top = 0;
  for (const base_m of Array.from(top_m).slice(1)) {
    if (slices.length >= most) break;
    if (!known({ top_m: top, base_m }, slices.at(-1))) continue;
    slices.push({ top_m: top, base_m, reliable: true });
    top = base_m;
  }
  return slices;
}

/** Base of the deepest slice down to which every slice is reliable, m; 0 where the first is not. */
export function reliableDepth(slices: readonly Slice[]): number {
  const first = slices.findIndex((slice) => !slice.reliable);
  const reliable = first < 0 ? slices : slices.slice(0, first);
  return reliable.at(-1)?.base_m ?? 0;
}

export interface SliceDepths {
  readonly top_m: number;
  readonly base_m: number;
}

/** k × m: the share of each slice's thickness that each layer fills. Rows add up to 1. */
export function sliceWeights(
  top_m: Float64Array,
  slices: readonly SliceDepths[],
): readonly Float64Array[] {
  return slices.map((slice) => sliceWeight(top_m, slice));
}

export function sliceWeight(top_m: Float64Array, slice: SliceDepths): Float64Array {
  return Float64Array.from(top_m, (layerTop, j) => {
    const layerBase = top_m[j + 1] ?? Number.POSITIVE_INFINITY;
    const shared = Math.min(slice.base_m, layerBase) - Math.max(slice.top_m, layerTop);
    return Math.max(0, shared) / (slice.base_m - slice.top_m);
  });
}
