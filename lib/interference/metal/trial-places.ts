import { median } from "../../numerics/statistics/robust.js";
import type { LineProfile } from "../anomaly/line-profiles.js";
import type { MetalPlace } from "./metal-coupling.js";

/** Depths below ground and distances aside that are tried, in separations. */
const DEPTHS = [-0.15, 0.1, 0.4];
const ASIDE = [0, 0.4];

export interface TrialPlace extends Omit<MetalPlace, "along_m"> {
  /** −1 where the receiver goes ahead of the transmitter. */
  readonly facing: 1 | -1;
}

export function trialPlaces({ pass, rows, channels }: LineProfile): readonly TrialPlace[] {
  const size_m = median(channels.map(({ separation_m }) => separation_m));
  const height_m = median(Float64Array.from(rows, (i) => pass.height_m[i]!)) || 0;
  // Where one coil stands and one lies, it matters which goes ahead, and the survey does not give
  // it.
  const both = channels.some(({ orientation }) => orientation === "PRP");
  const facings = both ? ([1, -1] as const) : ([1] as const);
  return DEPTHS.flatMap((depth) =>
    ASIDE.flatMap((aside) =>
      facings.map((facing) => ({
        below_m: Math.max(0.2 * size_m, height_m + depth * size_m),
        aside_m: aside * size_m,
        facing,
      })),
    ),
  );
}
