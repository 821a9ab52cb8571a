import { embankmentCoilSensitivities } from "../lib/earth/embankment/embankment-coil-sensitivity.js";
import { embankmentCoilFactor } from "../lib/index.js";
import { type BenchRow, timed } from "./timed.js";

const SHAPE = {
  crestWidth_m: 3,
  height_m: 3,
  watersideSlope: 2.5,
  landsideSlope: 2.5,
  offset_m: 0,
};
const TOPS_M = [0, 0.5, 1, 2, 3, 4, 6, 10];

/** What an embankment's shape does to one coil pair, and to an instrument's over one cross-section. */
export function benchEmbankment(): readonly BenchRow[] {
  const pairs = (["HCP", "VCP", "PRP"] as const).flatMap((orientation) =>
    [1, 2, 4].map((separation_m) => ({ orientation, separation_m, height_m: 0.9 })),
  );
  return [
    timed("embankmentCoilFactor, 8 layers, 1 coil pair", () =>
      embankmentCoilFactor(SHAPE, pairs[4]!, TOPS_M),
    ),
    timed("embankment sensitivities, 8 layers, 9 coil pairs", () =>
      embankmentCoilSensitivities(SHAPE, pairs, TOPS_M),
    ),
  ];
}
