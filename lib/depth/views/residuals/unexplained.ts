import { median } from "../../../numerics/robust.js";
import type { Channel } from "../../../survey/survey.js";
import type { ChannelFit, DepthSlices } from "../../depth-slices.js";
import { channelName, familyName } from "../channels/channel-name.js";
import { type ChannelReach, channelReaches } from "../channels/channel-reach.js";
import { binMisfit, joinedBins, misfitBins } from "./misfit-bins.js";

/** Root mean square, in noise, over which a channel or a stretch counts as not explained. */
export const EXPLAINED = 1.5;

/** A channel's fit with its name and how deep it looks. */
export interface ChannelMisfit extends ChannelFit {
  readonly name: string;
  readonly family: string;
  /** Depth above which half of its sensitivity lies under the bank's median column, m. */
  readonly median_m: number;
  /** Mean and middle residual over its noise: above 0 where readings lie over the model. */
  readonly mean: number;
  readonly middle: number;
  /** Share of its residuals over twice the noise. */
  readonly beyond_pct: number;
}

/** The channels family by family, those that look shallowest first. */
export function channelMisfits(value: DepthSlices): readonly ChannelMisfit[] {
  const fits = value.channels ?? [];
  const reach = reachesOf(value, fits);
  const named = channelNames(fits);
  const all = fits.map((fit, c) => ({
    ...fit,
    ...named[c]!,
    median_m: reach[c]?.median_m ?? Number.NaN,
    ...sizes(fit.residual),
  }));
  const familyDepth = (family: string) =>
    median(all.filter((one) => one.family === family).map((one) => one.median_m));
  const depth = new Map(all.map(({ family }) => [family, familyDepth(family)]));
  return all.toSorted(
    (a, b) =>
      depth.get(a.family)! - depth.get(b.family)! ||
      0 ||
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

/** Names that tell channels apart: with the walk where two walks have the same one. */
export function channelNames(fits: readonly ChannelFit[]) {
  const coils = fits.flatMap((fit) => fit.coils ?? []);
  const plain = fits.map((fit) => ({
    name: fit.coils ? channelName(fit.coils, coils) : fit.channel,
    family: fit.coils ? familyName(fit.coils, coils) : fit.channel,
  }));
  return plain.map(({ name, family }, c) => {
    const twice = plain.filter((one) => one.name === name).length > 1;
    const walk = twice ? `, ${fits[c]!.resource}` : "";
    return { name: `${name}${walk}`, family: `${family}${walk}` };
  });
}

function reachesOf(value: DepthSlices, fits: readonly ChannelFit[]): readonly ChannelReach[] {
  const coils = fits.flatMap((fit): Channel[] => (fit.coils ? [fit.coils] : []));
  const height_m = median(value.height_m ?? []);
  const column = medianColumn(value);
  const known = height_m >= 0 && column.log10Resistivity.every(Number.isFinite);
  return known && coils.length === fits.length ? channelReaches(coils, height_m, column) : [];
}

function medianColumn({ layers }: DepthSlices) {
  const { top_m, log10Resistivity } = layers;
  const m = top_m.length;
  const layer = (j: number) => log10Resistivity.filter((_, at) => at % m === j);
  return { top_m, log10Resistivity: Array.from(top_m, (_, j) => median(layer(j))) };
}

/**
 * Root mean square that noise alone would not give so many residuals: their sum of squares 4.5
 * standard deviations over what it is to be, and never under what counts as explained.
 */
function beyondChance(residuals: number): number {
  return Math.max(EXPLAINED, Math.sqrt(1 + 4.5 * Math.sqrt(2 / residuals)));
}

/** Stretches where all channels together are met worse than the noise allows, worst first. */
export function unexplained(value: DepthSlices, channels: readonly ChannelMisfit[]) {
  const residuals = channels.map(({ residual }) => residual);
  const joined = joinedBins(misfitBins(value), (bin) =>
    binMisfit(residuals, bin) > beyondChance(residuals.length * (bin.end - bin.first))
      ? "not explained"
      : "",
  );
  return joined
    .filter(({ group }) => group !== "")
    .map((stretch) => {
      const misfit = binMisfit(residuals, stretch);
      const own = channels
        .map(({ name, residual }) => ({ name, size: binMisfit([residual], stretch) }))
        .filter(({ size }) => size > EXPLAINED)
        .sort((a, b) => b.size - a.size);
      const excess = (misfit ** 2 - 1) * (stretch.end - stretch.first);
      return { ...stretch, misfit, excess, channels: own.map(({ name }) => name) };
    })
    .sort((a, b) => b.excess - a.excess);
}
