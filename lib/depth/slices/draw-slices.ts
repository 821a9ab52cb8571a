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
      Number.isNaN(log10Resistivity[at]!) ? Number.NaN : value,
    );
    drawn.push(weights.map((row) => meansBy(row, known, m)));
  });
  return drawn;
}

/** −Σ weight × ln conductivity / ln 10 at each station. */
function meansBy(weights: Float64Array, model: Float64Array, m: number): Float64Array {
  return Float64Array.from({ length: model.length / m }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < m; j++) sum -= weights[j] === 0 ? 0 : weights[j]! * model[i * m + j]!;
    return sum / Math.LN10;
  });
}
