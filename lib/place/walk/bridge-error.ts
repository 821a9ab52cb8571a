import { valueAt } from "../../numerics/arrays.js";
import { lastAtMost } from "../../numerics/functions/linear-between.js";
import { MAD_TO_SD, median } from "../../numerics/statistics/robust.js";
import { courseOf } from "./shift-in-time.js";

const SAMPLES = 200;
const LEAST_SAMPLES = 10;
/** Where there are fewer samples the error grows by this, m/s. */
const COMMON_ERROR = 0.1;

/**
 * Error of a bridge of this duration in its middle, as a standard deviation, m: tried on the
 * stretches of the same walk that have positions; a tenth of a metre a second where these are few.
 */
export function bridgeError(
  clock_s: Float64Array,
  chainage_m: Float64Array,
  duration_s: number,
): number {
  const { rows, time_s } = courseOf(clock_s, chainage_m);
  const at = (k: number) => ({
    time_s: valueAt(time_s, k),
    chainage_m: valueAt(chainage_m, rows[k] ?? -1),
  });
  const before = (asked_s: number) => lastAtMost(time_s, asked_s, [0, time_s.length - 1]);
  const step = Math.max(1, Math.floor(rows.length / SAMPLES));
  const errors: number[] = [];
  for (let k = 0; k < rows.length; k += step) {
    const start = at(k);
    const middle = before(start.time_s + duration_s / 2);
    const last = before(start.time_s + duration_s);
    const [half, end] = [at(middle), at(last)];
    const span_s = end.time_s - start.time_s;
    if (middle <= k || last <= middle || span_s < 0.9 * duration_s) continue;
    const share = (half.time_s - start.time_s) / span_s;
    if (Math.abs(share - 0.5) > 0.1) continue;
    const way_m = end.chainage_m - start.chainage_m;
    errors.push(Math.abs(half.chainage_m - start.chainage_m - share * way_m));
  }
  return errors.length >= LEAST_SAMPLES ? MAD_TO_SD * median(errors) : COMMON_ERROR * duration_s;
}
