import { itemAt, valueAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import { type SliceDepths, sliceWeights } from "./choose-slices.js";

/**
 * The averaging kernel by slices: entry [a][b][i] is the change of slice a's estimate at station i
 * when log resistivity changes by one throughout slice b alone: at that station where each is
 * inverted by itself, along the whole line where all are inverted jointly. It is the identity where
 * the data resolve everything; NaN where a station has no estimate.
 *
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4 and chapter 3 (from
 * memory).
 */
export function averagingKernel(
  line: Pick<InvertedLine, "top_m" | "gap" | "timesResolution">,
  slices: readonly SliceDepths[],
): readonly (readonly Float64Array[])[] {
  const m = line.top_m.length;
  const weights = sliceWeights(line.top_m, slices);
  const changes = zipped(weights, slices).map(([row, slice]) =>
    line.timesResolution(filledShare(row, line.top_m, slice)),
  );
  return weights.map((row) =>
    changes.map((change) =>
      Float64Array.from(line.gap, (gap, i) => {
        if (gap !== "") return Number.NaN;
        return row.reduce((sum, w, j) => sum + w * valueAt(change, i * m + j), 0);
      }),
    ),
  );
}

/** Resolved from its neighbours: their change moves it by half of what its own does at most. */
export function toldApart(averaging: readonly (readonly Float64Array[])[], slice: number): boolean {
  const row = itemAt(averaging, slice).map((values) => median(values));
  const own = itemAt(row, slice);
  return [slice - 1, slice + 1].every(
    (other) => row[other] === undefined || Math.abs(row[other]) <= own / 2,
  );
}

/** For each layer the share of its own thickness that lies in the slice; the last layer's is 0. */
function filledShare(weights: Float64Array, top_m: Float64Array, slice: SliceDepths): Float64Array {
  const thickness_m = slice.base_m - slice.top_m;
  return weights.map((weight, j) => {
    const base = top_m[j + 1];
    return base === undefined ? 0 : (weight * thickness_m) / (base - valueAt(top_m, j));
  });
}
