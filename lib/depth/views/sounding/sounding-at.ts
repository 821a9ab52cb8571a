import { valueAt, zipped } from "../../../numerics/arrays.js";
import { NORMAL_90 } from "../../../numerics/statistics/normal.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Borehole } from "../../../survey/survey.js";
import type { DepthSlices } from "../../depth-slices.js";
import { channelNames } from "../channels/channel-names.js";
import { fitReaches } from "../channels/channel-reach.js";
import type { SoundingOptions } from "./options.js";
import type { Sounding, SoundingReach } from "./sounding.js";

/** Where a sounding is asked for: a chainage along the slices. */
export interface SoundingPlace {
  readonly slices: DepthSlices;
  readonly chainage_m: number;
}

/** The sounding at the nearest station with an estimate. */
export function soundingAt(place: SoundingPlace, used: SoundingOptions): Sounding {
  const { slices, chainage_m: asked_m } = place;
  const station = nearestEstimate(slices, asked_m);
  const { layers, crestElevation_m } = slices;
  const chainage_m = valueAt(slices.chainage_m, station);
  const m = layers.top_m.length;
  const at = (values: Float64Array) => values.slice(station * m, (station + 1) * m);
  const mean = at(layers.log10Resistivity);
  const sd = at(layers.sd);
  const bound = (deviations: number) =>
    mean.map((value, j) => 10 ** (value + deviations * valueAt(sd, j)));
  return {
    campaign: slices.campaign,
    chainage_m,
    asked_m,
    crestElevation_m: crestElevation_m?.[station] ?? null,
    top_m: layers.top_m,
    resistivity_ohm_m: mean.map((value) => 10 ** value),
    p10_ohm_m: bound(-NORMAL_90),
    p90_ohm_m: bound(NORMAL_90),
    learned: at(layers.learned),
    reliableTo_m: slices.reliableTo_m,
    channels: reachesAt(slices, station, mean),
    borehole: nearestBorehole(used, chainage_m),
  };
}

function reachesAt(
  { channels = [], layers, height_m = new Float64Array() }: DepthSlices,
  station: number,
  log10Resistivity: Float64Array,
): readonly SoundingReach[] {
  const known = valueAt(height_m, station);
  const height = Number.isNaN(known) ? median(height_m) : known;
  const reaches = fitReaches(channels, height, { top_m: layers.top_m, log10Resistivity });
  return zipped(reaches, channelNames(channels)).map(([reach, names]) => ({ ...names, ...reach }));
}

/** The station with an estimate that is nearest to a place, the earlier one of two. */
function nearestEstimate({ chainage_m, gap }: DepthSlices, at_m: number): number {
  const away = (i: number) => Math.abs(valueAt(chainage_m, i) - at_m);
  const estimated = [...gap.keys()].filter((i) => gap[i] === "");
  return estimated.reduce((best, i) => (away(i) < away(best) ? i : best));
}

function nearestBorehole(
  { boreholes, boreholeWithin_m }: SoundingOptions,
  at_m: number,
): Borehole | null {
  const away = (one: Borehole) => Math.abs(one.chainage_m - at_m);
  const [nearest] = boreholes.toSorted((a, b) => away(a) - away(b));
  return nearest !== undefined && away(nearest) <= boreholeWithin_m ? nearest : null;
}
