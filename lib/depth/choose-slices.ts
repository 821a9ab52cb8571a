import type { Slice } from "./depth-slices.js";

/**
 * Depth to which the data decide more than the prior: the base of the deepest layer, counted from
 * the surface down without a break, in which the share of prior variance removed by the data
 * (median over stations) stays at `threshold` or above. 0 where not even the first layer does.
 */
export function reliableDepth(
  top_m: Float64Array,
  medianLearned: Float64Array,
  threshold: number,
): number {
  let depth = 0;
  for (let j = 0; j < top_m.length; j++) {
    if (!(medianLearned[j]! >= threshold)) break;
    depth = top_m[j + 1] ?? top_m[j]!;
  }
  return depth;
}

/**
 * Slices from the surface to the reliable depth that each hold an equal share of the independent
 * information: as many as there are independent levels within that depth (rounded down, at least
 * one), cut where the cumulated resolution passes equal shares, to the nearest 0.1 m.
 */
export function chooseSlices(
  top_m: Float64Array,
  resolution: Float64Array,
  reliableTo_m: number,
): readonly Slice[] {
  if (!(reliableTo_m > 0)) return [];
  const within = cumulated(top_m, resolution, reliableTo_m);
  const total = within[within.length - 1]!.sum;
  const wanted = Math.max(1, Math.floor(total + 1e-9));
  const edges = [0];
  for (let k = 1; k < wanted; k++) {
    const cut = Math.round(10 * depthAt(within, (k / wanted) * total)) / 10;
    if (cut - edges[edges.length - 1]! >= 0.3 && reliableTo_m - cut >= 0.3) edges.push(cut);
  }
  edges.push(reliableTo_m);
  return edges
    .slice(0, -1)
    .map((top, k) => ({ top_m: top, base_m: edges[k + 1]!, reliable: true }));
}

interface Cumulated {
  readonly depth_m: number;
  readonly sum: number;
}

function cumulated(
  top_m: Float64Array,
  resolution: Float64Array,
  to_m: number,
): readonly Cumulated[] {
  const steps: Cumulated[] = [{ depth_m: 0, sum: 0 }];
  for (let j = 0; j < top_m.length && top_m[j]! < to_m; j++) {
    const before = steps[steps.length - 1]!;
    const base = Math.min(top_m[j + 1] ?? to_m, to_m);
    steps.push({ depth_m: base, sum: before.sum + Math.max(0, resolution[j]!) });
  }
  return steps;
}

function depthAt(steps: readonly Cumulated[], sum: number): number {
  const after = steps.findIndex((step) => step.sum >= sum);
  if (after <= 0) return steps[0]!.depth_m;
  const low = steps[after - 1]!;
  const high = steps[after]!;
  const share = (sum - low.sum) / (high.sum - low.sum);
  return low.depth_m + share * (high.depth_m - low.depth_m);
}

/** k × m: the share of each slice's thickness that each layer fills. Rows add up to 1. */
export function sliceWeights(
  top_m: Float64Array,
  slices: readonly { readonly top_m: number; readonly base_m: number }[],
): readonly Float64Array[] {
  return slices.map(({ top_m: top, base_m: base }) =>
    Float64Array.from(top_m, (layerTop, j) => {
      const layerBase = top_m[j + 1] ?? Number.POSITIVE_INFINITY;
      const shared = Math.min(base, layerBase) - Math.max(top, layerTop);
      return Math.max(0, shared) / (base - top);
    }),
  );
}
