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
