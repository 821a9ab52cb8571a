import type { Instrument } from "../survey/survey.js";
import type { PlanOptions } from "./options.js";
import type { Effort } from "./plan.js";

/** Work of a kilometre. */
export function effortOf({ channels }: Instrument, used: PlanOptions): Effort {
  const { spacing_m, walks, speed_m_per_s, overheadShare } = used;
  const stations_per_km = 1000 / spacing_m;
  return {
    stations_per_km,
    readings_per_km: stations_per_km * walks,
    values_per_km: stations_per_km * walks * channels.length,
    hours_per_km: (walks * (1000 / speed_m_per_s) * (1 + overheadShare)) / 3600,
    secondsPerReading: spacing_m / speed_m_per_s,
  };
}
