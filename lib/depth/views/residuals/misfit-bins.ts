import { valueAt } from "../../../numerics/arrays.js";
import { rootMeanSquare } from "../../data/root-mean-square.js";
import { estimatedRuns } from "../../data/text-runs.js";
import type { DepthSlices } from "../../depth-slices.js";

/** Neighbouring stations whose residuals are pooled. */
export interface MisfitBin {
  readonly from_m: number;
  readonly to_m: number;
  /** Stations, from the first to the one before the end. */
  readonly first: number;
  readonly end: number;
  /** Number of the unbroken run it lies in. */
  readonly run: number;
}

/** Bins of a line at the most. */
const BINS = 300;
/** The root mean square of five unit normals is above 1.5 once in 20, above 2 once in 1,000. */
const LEAST = 5;

/** The stations with an estimate in bins that no gap breaks, each of five stations or more. */
export function misfitBins(value: DepthSlices): readonly MisfitBin[] {
  const { chainage_m, spacing_m } = value;
  const size = Math.max(LEAST, Math.ceil(chainage_m.length / BINS));
  return estimatedRuns(value).flatMap(({ first, last }, run) => {
    const count = Math.max(1, Math.floor((last - first + 1) / size));
    return Array.from({ length: count }, (_, k) => {
      const from = first + k * size;
      const end = k === count - 1 ? last + 1 : from + size;
      return {
        from_m: valueAt(chainage_m, from) - spacing_m / 2,
        to_m: valueAt(chainage_m, end - 1) + spacing_m / 2,
        first: from,
        end,
        run,
      };
    });
  });
}

/** Root mean square of the residuals of some channels in a bin; NaN where there are none. */
export function binMisfit(residuals: readonly Float64Array[], { first, end }: MisfitBin): number {
  return rootMeanSquare(residuals.flatMap((residual) => [...residual.subarray(first, end)]));
}

/** Neighbouring bins of one run joined while they belong to one group. */
export function joinedBins(bins: readonly MisfitBin[], groupOf: (bin: MisfitBin) => string) {
  const joined: (MisfitBin & { readonly group: string })[] = [];
  for (const bin of bins) {
    const group = groupOf(bin);
    const last = joined.at(-1);
    if (last?.run === bin.run && last.group === group) {
      joined[joined.length - 1] = { ...last, to_m: bin.to_m, end: bin.end };
    } else joined.push({ ...bin, group });
  }
  return joined;
}
