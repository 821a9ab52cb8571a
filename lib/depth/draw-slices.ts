import { seededRandom } from "../numerics/random.js";
import { type SliceDepths, sliceWeights } from "./choose-slices.js";
import type { DepthOptions } from "./depth-options.js";
import type { SettledLine } from "./invert-line.js";
import type { InvertedLine } from "./inverted-line.js";
import { posteriorDraw } from "./line-posterior.js";

/**
 * Draws of the slices from the posterior, whole lines at a time, so that what neighbours and slices
 * share in error is shared in each draw: [draw][slice] of n values of log10(ohm-m), NaN in gaps.
 */
export function drawSlices(
  line: InvertedLine & { readonly settled: SettledLine },
  slices: readonly SliceDepths[],
  { draws, seed }: Pick<DepthOptions, "draws" | "seed">,
): readonly (readonly Float64Array[])[] {
  const { equations, belief, data } = line.settled;
  const m = line.top_m.length;
  const random = seededRandom(seed);
  const weights = sliceWeights(line.top_m, slices);
  return Array.from({ length: draws }, () => {
    const deviation = posteriorDraw(equations, { belief, q: data.q }, random);
    return weights.map((row) =>
      line.chainage_m.map((_, i) => {
        let sum = 0;
        for (let j = 0; j < m; j++) {
          const at = i * m + j;
          if (row[j] === 0) continue;
          sum += row[j]! * (line.log10Resistivity[at]! - deviation[at]! / Math.LN10);
        }
        return sum;
      }),
    );
  });
}
