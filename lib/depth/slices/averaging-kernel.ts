import { median } from "../../numerics/robust.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import { type SliceDepths, sliceWeights } from "./choose-slices.js";

/**
 * What the estimate of each slice shows of a change of each slice: entry [a][b][i] is the change of
 * slice a's estimate at station i when log resistivity changes by one throughout slice b alone:
 * at the station where each stands by itself, along the whole line where all are taken together. It would be the identity if the data told everything. NaN where a station
 * has no estimate.
 *
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4 and chapter 3
 * (averaging kernel; from memory).
 */
export function averagingKernel(
  line: Pick<InvertedLine, "top_m" | "gap" | "answers">,
  slices: readonly SliceDepths[],
): readonly (readonly Float64Array[])[] {
  const m = line.top_m.length;
  const weights = sliceWeights(line.top_m, slices);
  const answers = weights.map((row, b) => line.answers(filledShare(row, line.top_m, slices[b]!)));
  return weights.map((row) =>
    answers.map((answer) =>
      Float64Array.from(line.gap, (gap, i) => {
        if (gap !== "") return Number.NaN;
        return row.reduce((sum, w, j) => sum + w * answer[i * m + j]!, 0);
      }),
    ),
  );
}

/** A slice is told apart where its neighbours' change moves it less than half of its own. */
export function toldApart(averaging: readonly (readonly Float64Array[])[], slice: number): boolean {
  const row = averaging[slice]!.map((values) => median(values));
  const own = row[slice]!;
  return [slice - 1, slice + 1].every(
    (other) => row[other] === undefined || Math.abs(row[other]) <= own / 2,
  );
}

/** For each layer the share of its own thickness that lies in the slice; the last layer's is 0. */
function filledShare(weights: Float64Array, top_m: Float64Array, slice: SliceDepths): Float64Array {
  const thickness_m = slice.base_m - slice.top_m;
  return weights.map((weight, j) => {
    const base = top_m[j + 1];
    return base === undefined ? 0 : (weight * thickness_m) / (base - top_m[j]!);
  });
}
