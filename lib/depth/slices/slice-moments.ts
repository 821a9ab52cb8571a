import { quadraticForm } from "../../numerics/algebra/quadratic-form.js";
import { valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import { type SliceDepths, sliceWeight } from "./choose-slices.js";

/** Thickness-weighted means of a slice, n values of log10(ohm-m). */
export function sliceMean(line: InvertedLine, slice: SliceDepths): Float64Array {
  const m = line.top_m.length;
  const weights = sliceWeight(line.top_m, slice);
  return line.chainage_m.map((_, i) => {
    const column = line.log10Resistivity.subarray(i * m, (i + 1) * m);
    return weights.reduce((sum, w, j) => (w > 0 ? sum + w * valueAt(column, j) : sum), 0);
  });
}

/** n posterior standard deviations of these means, log10 units. */
export function posteriorSd(line: InvertedLine, slice: SliceDepths): Float64Array {
  const weights = sliceWeight(line.top_m, slice);
  const inflation = line.sdInflation(weights);
  return sdsOf(line.covariance, weights).map((sd) => inflation * sd);
}

/** The part of them from the readings' noise. */
export function noiseSd(line: InvertedLine, slice: SliceDepths): Float64Array {
  return sdsOf(line.noiseCovariance, sliceWeight(line.top_m, slice));
}

/** Whether the data halve the standard deviation of the difference of two slices. */
export function isDifferenceResolved(
  line: InvertedLine,
  slice: SliceDepths,
  above: SliceDepths,
): boolean {
  const [one, other] = [sliceWeight(line.top_m, slice), sliceWeight(line.top_m, above)];
  const weights = one.map((value, j) => value - valueAt(other, j));
  return median(sdsOf(line.covariance, weights)) <= 0.5 * priorSd(line, weights);
}

/** |Lᵀ w| of the prior covariance L Lᵀ, log10 units. */
function priorSd({ prior: { factor } }: InvertedLine, weights: Float64Array): number {
  const m = weights.length;
  const projected = weights.map((_, k) =>
    weights.reduce((sum, w, j) => sum + w * valueAt(factor, j * m + k), 0),
  );
  return Math.hypot(...projected) / Math.LN10;
}

/** Standard deviations of a weighted sum of ln conductivities, log10 units; NaN for a gap. */
function sdsOf(matrices: InvertedLine["covariance"], weights: Float64Array): Float64Array {
  return Float64Array.from(matrices, (matrix) =>
    matrix === null
      ? Number.NaN
      : Math.sqrt(Math.max(0, quadraticForm(matrix, weights))) / Math.LN10,
  );
}
