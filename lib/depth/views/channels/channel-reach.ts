import { channelSensitivities } from "../../../earth/channel-sensitivities.js";
import { itemAt, lastOf, neighbours, valueAt } from "../../../numerics/arrays.js";
import type { Channel } from "../../../survey/survey.js";
import type { ChannelFit } from "../../depth-slices.js";

/** A column of layered ground. */
export interface Column {
  /** m tops, the first 0. */
  readonly top_m: ArrayLike<number>;
  /** m values of log10(ohm-m). */
  readonly log10Resistivity: ArrayLike<number>;
}

/** The depths that a channel is sensitive to. */
export interface ChannelReach {
  /** k depths, rising from 0. */
  readonly depth_m: Float64Array;
  /** k shares of the channel's whole sensitivity that lie above them, 0 to 1. */
  readonly above: Float64Array;
  /** Depth above which half of it lies; NaN where that is deeper than the last depth. */
  readonly median_m: number;
}

/** Sublayers of the column, m, and how far it goes down, in depths of the last top. */
const PIECE_M = 0.2;
const BEYOND = 3;

/**
 * For each channel the share of its sensitivity (size of the derivative to ln conductivity, whole
 * response) that lies above each depth of a column, the coils at a height.
 */
export function channelReaches(
  channels: readonly Channel[],
  height_m: number,
  column: Column,
): readonly ChannelReach[] {
  const { depth_m, conductivity_S_per_m } = sublayers(column);
  const m = depth_m.length;
  const thickness_m = neighbours([...depth_m]).map(([top, base]) => base - top);
  const earth = { conductivity_S_per_m, thickness_m };
  const { byLnConductivity_ppm } = channelSensitivities(channels, height_m, earth);
  return channels.map((_, c) => {
    const size = byLnConductivity_ppm.subarray(c * m, (c + 1) * m).map(Math.abs);
    const whole = size.reduce((sum, value) => sum + value, 0);
    let sum = 0;
    const above = size.map((value) => {
      const before = sum;
      sum += value / whole;
      return before;
    });
    return { depth_m, above, median_m: depthOfHalf(depth_m, above) };
  });
}

/** The same of fitted channels; none where coils, height or column are not all known. */
export function fitReaches(
  fits: readonly ChannelFit[],
  height_m: number,
  column: Column,
): readonly ChannelReach[] {
  const coils = fits.flatMap((fit) => fit.coils ?? []);
  const known = height_m >= 0 && Array.from(column.log10Resistivity).every(Number.isFinite);
  return known && coils.length === fits.length ? channelReaches(coils, height_m, column) : [];
}

function depthOfHalf(depth_m: Float64Array, above: Float64Array): number {
  const base = above.findIndex((share) => share >= 0.5);
  if (base < 1) return Number.NaN;
  const [top_m, base_m] = [valueAt(depth_m, base - 1), valueAt(depth_m, base)];
  const [before, after] = [valueAt(above, base - 1), valueAt(above, base)];
  return top_m + ((0.5 - before) / (after - before)) * (base_m - top_m);
}

/** The column in thin sublayers; the last layer too, down to a few times its top. */
function sublayers({ top_m, log10Resistivity }: Column) {
  const depth: number[] = [];
  const conductivity_S_per_m: number[] = [];
  const last = lastOf(top_m);
  for (const [j, top] of Array.from(top_m).entries()) {
    const base = top_m[j + 1] ?? BEYOND * Math.max(last, 1);
    const pieces = Math.max(1, Math.round((base - top) / Math.max(PIECE_M, last / 30)));
    for (let k = 0; k < pieces; k++) {
      depth.push(top + (k * (base - top)) / pieces);
      conductivity_S_per_m.push(10 ** -itemAt(log10Resistivity, j));
    }
  }
  return { depth_m: Float64Array.from(depth), conductivity_S_per_m };
}
