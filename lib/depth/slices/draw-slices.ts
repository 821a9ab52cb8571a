import { valueAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import type { LinePosterior } from "../invert/line/invert-line.js";
import { drawLines } from "../invert/line/line-draws.js";
import type { DepthOptions } from "../options.js";
import { type SliceDepths, sliceWeights } from "./choose-slices.js";

/**
 * Draws of the slices from the posterior, whole lines at a time, so that errors keep their
 * correlation between stations and slices: [draw][slice] of n values of log10(ohm-m), NaN in gaps.
 */
export async function drawSlices(
  { top_m, log10Resistivity }: Pick<InvertedLine, "top_m" | "log10Resistivity">,
  joint: LinePosterior,
  { slices, used }: { readonly slices: readonly SliceDepths[]; readonly used: DepthOptions },
): Promise<readonly (readonly Float64Array[])[]> {
  const m = top_m.length;
  const weights = sliceWeights(top_m, slices);
  const drawn: Float64Array[][] = [];
  const { draws, seed } = used;
  await drawLines(joint, { draws, random: seededRandom(seed) }, ({ lnConductivity }) => {
    const known = lnConductivity.map((value, at) =>
      Number.isNaN(valueAt(log10Resistivity, at)) ? Number.NaN : value,
    );
    drawn.push(weights.map((row) => meansBy(row, known, m)));
  });
  return drawn;
}

/** −Σ weight × ln conductivity / ln 10 at each station. */
function meansBy(weights: Float64Array, model: Float64Array, m: number): Float64Array {
  return Float64Array.from({ length: model.length / m }, (_, i) => {
    const column = model.subarray(i * m, (i + 1) * m);
    const sum = weights.reduce((s, w, j) => (w === 0 ? s : s - w * valueAt(column, j)), 0);
    return sum / Math.LN10;
  });
}
