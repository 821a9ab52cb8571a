import type { ScreenSettings } from "./readings/screen-line.js";
import type { InvertSectionOptions } from "./section-options.js";

/** A greater geometric factor leaves no voltage to measure. */
const MOST_FACTOR_M = 1e6;

/** What of the options decides which readings are set aside. */
export function screenSettings({
  mostDeviation_pct,
  leastVoltage_mV,
  proportionalError,
}: Omit<InvertSectionOptions, "campaign">): ScreenSettings {
  const limits = { mostDeviation_pct, leastVoltage_mV, mostFactor_m: MOST_FACTOR_M };
  return { ...limits, share: proportionalError };
}
