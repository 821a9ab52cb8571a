const DAY_S = 86_400;

/** Soil temperature: a damped annual wave, warmest at the surface at the end of July. */
export function soilTemperature_degC(depth_m: number, time_s: number): number {
  const days = (time_s - Date.UTC(2031, 6, 30) / 1000) / DAY_S;
  const lag = depth_m / 2.2;
  return 10.5 + 8 * Math.exp(-lag) * Math.cos((2 * Math.PI * days) / 365.25 - lag);
}

/**
 * log10 of resistivity at a temperature over that at 25 °C.
 * Source: Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005.
 */
export function log10OverThatAt25(temperature_degC: number): number {
  return Math.log10(0.447 + 1.4034 * Math.exp(-temperature_degC / 26.815));
}

export interface SoilReading {
  readonly time_s: number;
  readonly depth_m: number;
  readonly temperature_degC: number;
}

/** What a probe writes down on a day, off by the same everywhere. */
export function probeReadings(time_s: number, off_degC: number): readonly SoilReading[] {
  return [0.2, 0.5, 1, 2, 3].map((depth_m) => ({
    time_s,
    depth_m,
    temperature_degC: Number((soilTemperature_degC(depth_m, time_s) + off_degC).toFixed(1)),
  }));
}
