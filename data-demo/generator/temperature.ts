/** Soil temperature of the bank and what it does to conductivity. */

const WAVE = Object.freeze({
  mean_degC: 10.6,
  amplitude_degC: 8.1,
  /** Damping depth of the annual wave for a diffusivity of 5e-7 m²/s. */
  damping_m: 2.24,
  /** Day of the year of the warmest surface. */
  warmest_day: 211,
});

const DAY_MS = 86_400_000;
const YEAR_DAYS = 365.25;

/** Damped annual wave (heat conduction into a half-space). */
export function soilTemperature_degC(depth_m: number, time_ms: number): number {
  const days = (time_ms - Date.UTC(2031, 0, 1)) / DAY_MS - WAVE.warmest_day;
  const lag = depth_m / WAVE.damping_m;
  const phase = (2 * Math.PI * days) / YEAR_DAYS - lag;
  return WAVE.mean_degC + WAVE.amplitude_degC * Math.exp(-lag) * Math.cos(phase);
}

/** EC25 over EC at a temperature; Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005. */
export function conductivityFactor(temperature_degC: number): number {
  return 0.447 + 1.4034 * Math.exp(-temperature_degC / 26.815);
}
