import { channelSensitivities } from "../../../earth/channel-sensitivities.js";
import type { Channel } from "../../../survey/survey.js";

/** A column of layered ground. */
export interface Column {
  /** m tops, the first 0. */
  readonly top_m: ArrayLike<number>;
  /** m values of log10(ohm-m). */
  readonly log10Resistivity: ArrayLike<number>;
}

/** How deep a channel looks. */
export interface ChannelReach {
  /** k depths, rising from 0. */
  readonly depth_m: Float64Array;
  /** k shares of the channel's whole sensitivity that lie above them, 0 to 1. */
  readonly above: Float64Array;
  /** Depth above which half of it lies; NaN where that is deeper than the last depth. */
  readonly median_m: number;
}

/** Pieces that layers are parted into, m, and how far below the last top sensitivity is followed. */
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
  const { depth_m, conductivity_S_per_m } = parted(column);
  const m = depth_m.length;
  const thickness_m = Array.from({ length: m - 1 }, (_, j) => depth_m[j + 1]! - depth_m[j]!);
  const earth = { conductivity_S_per_m, thickness_m };
  const { byLnConductivity_ppm } = channelSensitivities(channels, height_m, earth);
  return channels.map((_, c) => {
    const size = byLnConductivity_ppm.subarray(c * m, (c + 1) * m).map(Math.abs);
    const whole = size.reduce((sum, value) => sum + value, 0);
    const above = new Float64Array(m);
    for (let j = 1; j < m; j++) above[j] = above[j - 1]! + size[j - 1]! / whole;
    return { depth_m, above, median_m: depthOfHalf(depth_m, above) };
  });
}

function depthOfHalf(depth_m: Float64Array, above: Float64Array): number {
  const next = above.findIndex((share) => share >= 0.5);
  if (next < 1) return Number.NaN;
  const share = (0.5 - above[next - 1]!) / (above[next]! - above[next - 1]!);
  return depth_m[next - 1]! + share * (depth_m[next]! - depth_m[next - 1]!);
}

/** The column in thin pieces; the last layer too, down to a few times its top. */
function parted({ top_m, log10Resistivity }: Column) {
  const depth: number[] = [];
  const conductivity_S_per_m: number[] = [];
  const last = top_m[top_m.length - 1]!;
  for (let j = 0; j < top_m.length; j++) {
    const base = top_m[j + 1] ?? BEYOND * Math.max(last, 1);
    const pieces = Math.max(1, Math.round((base - top_m[j]!) / Math.max(PIECE_M, last / 30)));
    for (let k = 0; k < pieces; k++) {
      depth.push(top_m[j]! + (k * (base - top_m[j]!)) / pieces);
      conductivity_S_per_m.push(10 ** -log10Resistivity[j]!);
    }
  }
  return { depth_m: Float64Array.from(depth), conductivity_S_per_m };
}
