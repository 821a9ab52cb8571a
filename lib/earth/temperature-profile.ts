import { firstOf } from "../numerics/arrays.js";
import { linearBetween } from "../numerics/functions/linear-between.js";
import { type AnnualWave, fitAnnualWave, type TemperatureMeasurement } from "./annual-wave.js";

/** Soil temperature by depth on one date. */
export interface TemperatureProfile {
  /** °C at a depth, m. */
  readonly at: (depth_m: number) => number;
  readonly method: "annual wave" | "interpolated";
  /** The wave, where one was fitted. */
  readonly wave: AnnualWave | null;
  /** Depths between which there were measurements: beyond them it is extrapolated. */
  readonly measuredFrom_m: number;
  readonly measuredTo_m: number;
  /** From the date to the nearest measurement used, days. */
  readonly nearest_days: number;
}

const DAY_S = 86_400;
/** A measurement farther from the date than this says nothing about it without a wave. */
export const NEAR_DAYS = 45;

/**
 * Soil temperature by depth for a date.
 *
 * Where the measurements hold three depths or more, on three days or more that span 120 days or
 * more, the damped annual wave T = mean + amplitude · e^(−z/d) cos(2π(t − t₀)/year − z/d) is fitted
 * to all of them by least squares. Otherwise, by linear interpolation in depth between those
 * nearest in time at each depth, no more than 45 days off; above the shallowest and below the
 * deepest, their values. Null where there is neither.
 *
 * Source: Carslaw & Jaeger 1959, Conduction of Heat in Solids, 2.6 (the wave); common practice
 * (the interpolation).
 *
 * @example
 * temperatureProfile([{ time_s: 0, depth_m: 1, temperature_degC: 9 }], 86400)?.at(2); // 9
 */
export function temperatureProfile(
  measurements: readonly TemperatureMeasurement[],
  time_s: number,
): TemperatureProfile | null {
  const rows = measurements.filter((row) =>
    [row.time_s, row.depth_m, row.temperature_degC].every(Number.isFinite),
  );
  if (!Number.isFinite(time_s) || rows.length === 0) return null;
  const wave = spansEnough(rows) ? fitAnnualWave(rows) : null;
  if (wave !== null) {
    return {
      at: (depth_m) => wave.at(depth_m, time_s),
      ...covered(rows, time_s),
      method: "annual wave",
      wave,
    };
  }
  const near = nearestByDepth(rows, time_s);
  if (near.length === 0) return null;
  return { at: interpolator(near), ...covered(near, time_s), method: "interpolated", wave: null };
}

function spansEnough(rows: readonly TemperatureMeasurement[]): boolean {
  const depths = new Set(rows.map((row) => row.depth_m));
  const days = [...new Set(rows.map((row) => Math.floor(row.time_s / DAY_S)))];
  return depths.size >= 3 && days.length >= 3 && Math.max(...days) - Math.min(...days) >= 120;
}

function covered(rows: readonly TemperatureMeasurement[], time_s: number) {
  const depths = rows.map((row) => row.depth_m);
  return {
    measuredFrom_m: Math.min(...depths),
    measuredTo_m: Math.max(...depths),
    nearest_days: Math.min(...rows.map((row) => Math.abs(row.time_s - time_s))) / DAY_S,
  };
}

/** For each depth the measurement nearest in time, the mean of those equally near; by depth. */
function nearestByDepth(
  rows: readonly TemperatureMeasurement[],
  time_s: number,
): TemperatureMeasurement[] {
  const off = (row: TemperatureMeasurement) => Math.abs(row.time_s - time_s);
  const depths = [...new Set(rows.map((row) => row.depth_m))].sort((a, b) => a - b);
  return depths.flatMap((depth_m) => {
    const here = rows.filter((row) => row.depth_m === depth_m && off(row) <= NEAR_DAYS * DAY_S);
    if (here.length === 0) return [];
    const least = Math.min(...here.map(off));
    const same = here.filter((row) => off(row) === least);
    const temperature_degC = same.reduce((sum, row) => sum + row.temperature_degC, 0) / same.length;
    return [{ time_s: firstOf(same).time_s, depth_m, temperature_degC }];
  });
}

function interpolator(rows: readonly TemperatureMeasurement[]): (depth_m: number) => number {
  const depths_m = rows.map((row) => row.depth_m);
  const temperature_degC = rows.map((row) => row.temperature_degC);
  return (depth_m) => linearBetween(depths_m, temperature_degC, depth_m);
}
