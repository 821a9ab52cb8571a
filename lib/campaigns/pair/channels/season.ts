import { factorTo25 } from "../../../earth/temperature.js";
import { temperatureProfile } from "../../../earth/temperature-profile.js";
import { itemAt } from "../../../numerics/arrays.js";
import type { CampaignPair } from "../check-pair.js";

/** Below the deepest probe a difference between dates fades over this depth, m. */
const DAMPING_M = 2.2;

/** By layer, ln conductivity later less earlier for the same ground; 0 without temperatures. */
export function seasonOf({ earlier, later }: CampaignPair, top_m: Float64Array) {
  const [before, after] = [earlier, later].map((one) =>
    temperatureProfile(one.soilTemperature, one.time_s),
  );
  const none = { shift: new Float64Array(top_m.length), corrected: false };
  if (!before || !after) return none;
  const deepest = Math.max(before.measuredTo_m, after.measuredTo_m);
  const shift = top_m.map((top, j) => {
    const depth_m = j + 1 < top_m.length ? (top + itemAt(top_m, j + 1)) / 2 : top + 1;
    const seen_m = Math.min(depth_m, deepest);
    const fade = Math.exp((seen_m - depth_m) / DAMPING_M);
    return fade * Math.log(factorTo25(before.at(seen_m)) / factorTo25(after.at(seen_m)));
  });
  return shift.some(Number.isNaN) ? none : { shift, corrected: true };
}
