import { linearBetween } from "../../numerics/functions/linear-between.js";
import type { CrestProfile } from "../cross-section.js";

/** Elevation of the crest at a chainage, m above the datum; NaN at a chainage that is missing. */
export function crestElevationAt({ chainage_m, elevation_m }: CrestProfile, at_m: number): number {
  return linearBetween(chainage_m, elevation_m, at_m);
}
