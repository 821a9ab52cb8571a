import { zipped } from "../../numerics/arrays.js";
import type { ScoredProfile } from "../metal/score-profile.js";
import type { DisturbedStretch } from "./merge-stretches.js";
import { withinReach } from "./noted-objects.js";

/** A channel is unharmed where no reading of the stretch departs by this many standard errors. */
const CALM = 2.5;
/** Fewer readings than this are no proof of calm. */
const LEAST = 4;

/**
 * Each stretch with the channels that stay in use in it: those whose readings, single and averaged,
 * on every walk through it, stay near the levels before and after. A stretch that is shifted as a
 * whole spares none, as its levels before and after may be shifted too; nor does a note without a
 * trace.
 */
export function withSparedChannels(
  stretches: readonly DisturbedStretch[],
  profiles: readonly ScoredProfile[],
  reach_m: number,
): readonly DisturbedStretch[] {
  return stretches.map((stretch) => {
    if (stretch.along || !stretch.detected) return stretch;
    const spared = profiles.flatMap((one) => calmChannels(one, stretch, reach_m));
    return spared.length > 0 ? { ...stretch, spared } : stretch;
  });
}

function calmChannels(
  { profile, anomaly }: ScoredProfile,
  { from_m, to_m, offset_m }: DisturbedStretch,
  reach_m: number,
): readonly string[] {
  const inside = Array.from(profile.chainage_m, (x, i) => {
    return x >= from_m && x <= to_m && withinReach(offset_m, profile.offset_m[i]!, reach_m);
  });
  const calm = (column: Float64Array) => {
    const own = column.filter((value, i) => inside[i] && !Number.isNaN(value));
    return own.length >= LEAST && own.every((value) => Math.abs(value) < CALM);
  };
  return zipped(profile.channels, anomaly).flatMap(([{ field }, column]) =>
    calm(column) ? [field] : [],
  );
}
