import { entryOf, zipped } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { ChannelFit, DepthSlices } from "../../depth-slices.js";
import { type ChannelNames, channelNames } from "../channels/channel-names.js";
import { fitReaches } from "../channels/channel-reach.js";

/** Root mean square, in noise, over which a channel or a stretch counts as not explained. */
export const EXPLAINED = 1.5;

/** A channel's fit with its names and its depth of sensitivity. */
export interface ChannelMisfit extends ChannelFit, ChannelNames {
  /** Depth above which half of its sensitivity lies under the bank's median column, m. */
  readonly median_m: number;
  /** Mean and median residual over its noise: above 0 where readings exceed the response. */
  readonly mean: number;
  readonly middle: number;
  /** Share of its residuals over twice the noise. */
  readonly beyond_pct: number;
}

/** The channels family by family, the shallowest sensitivity first. */
export function channelMisfits(value: DepthSlices): readonly ChannelMisfit[] {
  const fits = value.channels ?? [];
  const reaches = fitReaches(fits, median(value.height_m ?? []), medianColumn(value));
  const all = zipped(fits, channelNames(fits)).map(([fit, names], c) => ({
    ...fit,
    ...names,
    median_m: reaches[c]?.median_m ?? Number.NaN,
    ...sizes(fit.residual),
  }));
  const familyDepth = (family: string) =>
    median(all.filter((one) => one.family === family).map((one) => one.median_m));
  const depth = new Map(all.map(({ family }) => [family, familyDepth(family)]));
  return all.toSorted(
    (a, b) =>
      entryOf(depth, a.family) - entryOf(depth, b.family) ||
      a.family.localeCompare(b.family) ||
      a.median_m - b.median_m ||
      0,
  );
}

function sizes(residual: Float64Array) {
  const present = residual.filter((one) => !Number.isNaN(one));
  const beyond = present.filter((one) => Math.abs(one) > 2).length;
  const sum = present.reduce((total, one) => total + one, 0);
  return {
    mean: sum / present.length,
    middle: median(present),
    beyond_pct: (100 * beyond) / present.length,
  };
}

function medianColumn({ layers }: DepthSlices) {
  const { top_m, log10Resistivity } = layers;
  const m = top_m.length;
  const layer = (j: number) => log10Resistivity.filter((_, at) => at % m === j);
  return { top_m, log10Resistivity: Array.from(top_m, (_, j) => median(layer(j))) };
}
