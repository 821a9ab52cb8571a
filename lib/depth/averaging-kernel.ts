import { choleskySolve } from "../numerics/cholesky.js";
import { sliceWeights } from "./choose-slices.js";
import type { LayerPrior } from "./layer-prior.js";

interface SliceDepths {
  readonly top_m: number;
  readonly base_m: number;
}

/**
 * What the estimate of each slice shows of a change of each slice: entry [a][b][i] is the change of
 * slice a's estimate at station i when log resistivity changes by one throughout slice b alone. It
 * would be the identity if the data told everything.
 *
 * The estimate moves by A = I − C P⁻¹ times a change of the layers, with posterior covariance C and
 * prior covariance P of the linearised problem; rows are averaged over slice a, columns added up
 * over slice b. NaN where a station has no estimate.
 *
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4 and chapter 3
 * (averaging kernel; from memory).
 */
export function averagingKernel(
  covariance: readonly (Float64Array | null)[],
  top_m: Float64Array,
  given: { readonly prior: LayerPrior; readonly slices: readonly SliceDepths[] },
): readonly (readonly Float64Array[])[] {
  const m = top_m.length;
  const weights = sliceWeights(top_m, given.slices);
  const filled = weights.map((row, b) => filledShare(row, top_m, given.slices[b]!));
  const solved = filled.map((share) => choleskySolve(given.prior.factor, m, share));
  return weights.map((row) =>
    filled.map((share, b) => {
      const whole = row.reduce((sum, w, j) => sum + w * share[j]!, 0);
      return Float64Array.from(covariance, (matrix) =>
        matrix === null ? Number.NaN : whole - bilinear(row, matrix, solved[b]!),
      );
    }),
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

function bilinear(left: Float64Array, matrix: Float64Array, right: Float64Array): number {
  const m = right.length;
  let sum = 0;
  for (let i = 0; i < m; i++) {
    if (left[i] === 0) continue;
    let row = 0;
    for (let j = 0; j < m; j++) row += matrix[i * m + j]! * right[j]!;
    sum += left[i]! * row;
  }
  return sum;
}
