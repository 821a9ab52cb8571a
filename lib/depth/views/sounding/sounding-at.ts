import { NORMAL_90 } from "../../../numerics/normal.js";
import { median } from "../../../numerics/robust.js";
import type { Borehole } from "../../../survey/survey.js";
import type { DepthSlices } from "../../depth-slices.js";
import { channelReaches } from "../channels/channel-reach.js";
import { channelNames } from "../residuals/unexplained.js";
import type { SoundingOptions } from "./options.js";
import type { Sounding, SoundingReach } from "./sounding.js";

function nearestEstimate({ chainage_m, gap }: DepthSlices, at_m: number): number {
  let best = -1;
  for (let i = 0; i < gap.length; i++) {
    if (gap[i] !== "") continue;
    const nearer = best < 0 || Math.abs(chainage_m[i]! - at_m) < Math.abs(chainage_m[best]! - at_m);
    if (nearer) best = i;
  }
  return best;
}

/** Where a sounding is asked for: a chainage along the slices. */
export interface SoundingPlace {
  readonly slices: DepthSlices;
  readonly chainage_m: number;
}

/** The sounding at the station nearest to a place, the earlier one of two. */
export function soundingAt(place: SoundingPlace, used: SoundingOptions): Sounding {
  const { slices: input, chainage_m: asked_m } = place;
  const station = nearestEstimate(input, asked_m);
  const { layers, crestElevation_m } = input;
  const m = layers.top_m.length;
  const own = (values: Float64Array) => values.slice(station * m, (station + 1) * m);
  const mean = own(layers.log10Resistivity);
  const sd = own(layers.sd);
  return {
    campaign: input.campaign,
    chainage_m: input.chainage_m[station]!,
    asked_m,
    crestElevation_m: crestElevation_m?.[station] ?? null,
    top_m: layers.top_m,
    resistivity_ohm_m: mean.map((value) => 10 ** value),
    p10_ohm_m: mean.map((value, j) => 10 ** (value - NORMAL_90 * sd[j]!)),
    p90_ohm_m: mean.map((value, j) => 10 ** (value + NORMAL_90 * sd[j]!)),
    learned: own(layers.learned),
    reliableTo_m: input.reliableTo_m,
    channels: reachesAt(input, station, mean),
    borehole: nearestBorehole(used, input.chainage_m[station]!),
  };
}

function reachesAt(
  { channels = [], layers, height_m }: DepthSlices,
  station: number,
  log10Resistivity: Float64Array,
): readonly SoundingReach[] {
  const coils = channels.flatMap((fit) => fit.coils ?? []);
  const own = height_m?.[station] ?? Number.NaN;
  const height = Number.isNaN(own) ? median(height_m ?? []) : own;
  if (!(height >= 0) || coils.length < channels.length) return [];
  const reaches = channelReaches(coils, height, { top_m: layers.top_m, log10Resistivity });
  const names = channelNames(channels);
  return reaches.map((reach, c) => ({ ...names[c]!, ...reach }));
}

function nearestBorehole(
  { boreholes, boreholeWithin_m }: SoundingOptions,
  at_m: number,
): Borehole | null {
  const away = (one: Borehole) => Math.abs(one.chainage_m - at_m);
  const [nearest] = boreholes.toSorted((a, b) => away(a) - away(b));
  return nearest !== undefined && away(nearest) <= boreholeWithin_m ? nearest : null;
}
