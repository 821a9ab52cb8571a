import { extent } from "../numerics/statistics/present.js";
import type { Pass } from "./pass.js";

/** First and last time of the passes, s; NaN without times. */
export function timeSpan(passes: readonly Pick<Pass, "time_s">[]) {
  const ends = passes.map(({ time_s }) => extent(time_s));
  const first_s = extent(ends.map(({ least }) => least)).least;
  const last_s = extent(ends.map(({ most }) => most)).most;
  return { first_s, last_s };
}
