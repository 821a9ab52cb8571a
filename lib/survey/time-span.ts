import type { Pass } from "./survey.js";

/** First and last time of the passes, s; NaN without times. */
export function timeSpan(passes: readonly Pick<Pass, "time_s">[]): {
  first_s: number;
  last_s: number;
} {
  let [first_s, last_s] = [Number.NaN, Number.NaN];
  for (const { time_s } of passes) {
    for (const time of time_s) {
      if (!(time >= first_s)) first_s = Number.isNaN(time) ? first_s : time;
      if (!(time <= last_s)) last_s = Number.isNaN(time) ? last_s : time;
    }
  }
  return { first_s, last_s };
}
