import type { DepthSlices } from "../depth/depth-slices.js";
import { factorTo25 } from "../earth/temperature.js";
import { type TemperatureProfile, temperatureProfile } from "../earth/temperature-profile.js";
import type { DepthRange } from "./ranges.js";

/**
 * For each slice, what takes log10 resistivity at field temperature to 25 °C: the mean over the
 * slice's thickness of −log10 of the conductivity factor. Null where the soil temperatures do not
 * reach the campaign's date, or frost makes the factor meaningless.
 *
 * Source: see `factorTo25`.
 */
export function shiftsTo25(given: DepthSlices, slices: readonly DepthRange[]): number[] | null {
  const profile = temperatureProfile(given.soilTemperature, given.time_s);
  if (profile === null) return null;
  const shifts = slices.map((slice) => sliceShift(profile, slice));
  return shifts.some(Number.isNaN) ? null : shifts;
}

const STEPS = 8;

function sliceShift(profile: TemperatureProfile, { top_m, base_m }: DepthRange): number {
  let sum = 0;
  for (let i = 0; i < STEPS; i++) {
    const depth_m = top_m + ((i + 0.5) / STEPS) * (base_m - top_m);
    sum -= Math.log10(factorTo25(profile.at(depth_m)));
  }
  return sum / STEPS;
}
