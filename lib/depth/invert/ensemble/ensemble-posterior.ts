import type { DepthSlices, Slice } from "../../depth-slices.js";
import type { SliceDepths } from "../../slices/choose-slices.js";
import type { LineDraws } from "./line-ensemble.js";
import { type SliceQuantiles, sliceQuantiles } from "./slice-quantiles.js";
import type { ColumnDraws } from "./slice-spreads.js";
import { spreadSlices } from "./spread-slices.js";

/** What the draws of a line give beyond means and covariances. */
export interface EnsemblePosterior {
  /** c factors on the stated noise. */
  readonly noiseScale: Float64Array;
  /** Slices that the draws resolve, each reliable or not. */
  readonly choose: (sliceSd: number) => readonly Slice[];
  /** Quantiles of slices' means; NaN in gaps. */
  readonly quantiles: (slices: readonly SliceDepths[]) => readonly SliceQuantiles[];
}

/** Stations that slices are chosen by. */
const CHOOSING = 60;
/** Prior standard deviation of a slice's mean, log10: what the prior's figures come to. */
const PRIOR_SD = 0.75;

export function ensemblePosterior(draws: LineDraws, gap: DepthSlices["gap"]): EnsemblePosterior {
  const withoutGaps = (row: Float64Array) =>
    row.map((value, i) => (gap[i] === "" ? value : Number.NaN));
  return {
    noiseScale: draws.noiseScale,
    choose: (sliceSd) => spreadSlices(someOf(draws, gap), { sliceSd, priorSd: PRIOR_SD }),
    quantiles: (slices) =>
      sliceQuantiles(draws, slices).map(({ p10, p50, p90, bounded }) => ({
        p10: withoutGaps(p10),
        p50: withoutGaps(p50),
        p90: withoutGaps(p90),
        bounded,
      })),
  };
}

/** The draws of stations spread evenly over those with an estimate. */
function someOf({ columns: all, draws, top_m }: LineDraws, gap: DepthSlices["gap"]): ColumnDraws {
  const size = draws * top_m.length;
  const known = [...gap.keys()].filter((i) => gap[i] === "" && !Number.isNaN(all[i * size]!));
  const count = Math.min(CHOOSING, known.length);
  const columns = new Float32Array(count * size);
  for (let s = 0; s < count; s++) {
    const i = known[Math.floor(((s + 0.5) * known.length) / count)]!;
    columns.set(all.subarray(i * size, (i + 1) * size), s * size);
  }
  return { columns, draws, top_m };
}
