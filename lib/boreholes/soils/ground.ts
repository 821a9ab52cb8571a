import type { Block } from "../../blocks/blocks.js";
import { shiftsTo25 } from "../../campaigns/to-25-degrees.js";
import type { DepthSlices, Slice } from "../../depth/depth-slices.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { extent } from "../../numerics/statistics/present.js";
import type { SoilPlace } from "./soil-kernel.js";

/** The slices that soils are told from, at one temperature. */
export interface Ground {
  readonly at25: boolean;
  /** The reliable slices. */
  readonly slices: readonly Slice[];
  /** A slice's ground about a chainage; null without an estimate within `near_m`. */
  readonly at: (chainage_m: number, slice: number) => SoilPlace | null;
  /** Chainages from end to end of the line, `step_m` apart. */
  readonly along: (step_m: number) => Float64Array;
}

/** The ground of the reliable slices, at 25 °C where the temperatures are known. */
export function groundOf(given: DepthSlices, blocks: readonly Block[], near_m: number): Ground {
  const kept = given.slices.flatMap((slice, k) => (slice.reliable ? [k] : []));
  const slices = kept.map((k) => itemAt(given.slices, k));
  const shifts = shiftsTo25(given, slices);
  return {
    at25: shifts !== null,
    slices,
    at: (chainage_m, slice) => {
      const k = itemAt(kept, slice);
      const { top_m, base_m } = itemAt(slices, slice);
      const about = meanAbout(given, k, { chainage_m, near_m });
      if (about === null) return null;
      const block = blocks.findIndex(
        ({ from_m, to_m }) => from_m <= chainage_m && chainage_m < to_m,
      );
      return {
        chainage_m,
        depth_m: (top_m + base_m) / 2,
        block: block < 0 ? Number.NaN : block,
        log10Resistivity: about.mean + (shifts?.[slice] ?? 0),
        sd: about.sd,
      };
    },
    along: (step_m) => {
      const { least, most } = extent(given.chainage_m);
      const n = Math.max(1, Math.floor((most - least) / step_m));
      const first = (least + most - (n - 1) * step_m) / 2;
      return Float64Array.from({ length: n }, (_, i) => first + i * step_m);
    },
  };
}

/**
 * Mean over the stations about a place; errors of neighbours are one error, so its sd is theirs.
 */
function meanAbout(
  { chainage_m, spacing_m, log10Resistivity, sd }: DepthSlices,
  slice: number,
  about: { readonly chainage_m: number; readonly near_m: number },
): { readonly mean: number; readonly sd: number } | null {
  const first = valueAt(chainage_m, 0);
  const from = Math.max(0, Math.ceil((about.chainage_m - about.near_m - first) / spacing_m));
  const to = Math.floor((about.chainage_m + about.near_m - first) / spacing_m);
  let [sum, error, count] = [0, 0, 0];
  for (let i = from; i <= Math.min(to, chainage_m.length - 1); i++) {
    const value = valueAt(itemAt(log10Resistivity, slice), i);
    if (Number.isNaN(value)) continue;
    sum += value;
    error += valueAt(itemAt(sd, slice), i);
    count += 1;
  }
  return count === 0 ? null : { mean: sum / count, sd: error / count };
}
