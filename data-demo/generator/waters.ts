import { chance } from "./chance.js";
import { type Cell, fixed, isoTime } from "./formats.js";
import { soilTemperature_degC } from "./temperature.js";

/** River stage, two piezometers and the soil temperature through the year of both campaigns. */

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const FIRST_MS = Date.parse("2031-08-01T07:00:00+01:00");
const DAYS = 304;

/** Of the river's water at its temperature in spring, ohm-m. */
export const RIVER_OHM_M = 24;

/** High waters: peak day, height over the season's level (m), days of rise and of fall. */
const FLOODS: readonly (readonly [string, number, number, number])[] = [
  ["2031-09-22", 0.35, 2, 5],
  ["2031-11-18", 0.8, 3, 7],
  ["2031-12-29", 1.2, 4, 9],
  ["2032-02-06", 1.5, 4, 10],
  ["2032-03-16", 2.1, 5, 12],
  ["2032-04-21", 0.7, 3, 8],
];

/** Metres above datum: a season's wave and the floods on it. */
export function riverStage_m(time_ms: number): number {
  const season = (2 * Math.PI * (time_ms - Date.parse("2032-02-20"))) / (365.25 * DAY_MS);
  const floods = FLOODS.map(([peak, height_m, rise, fall]) => {
    const days = (time_ms - Date.parse(`${peak}T12:00:00+01:00`)) / DAY_MS;
    const width = days < 0 ? rise : fall;
    return height_m * Math.exp(-0.5 * (days / (0.6 * width)) ** 2);
  });
  return 2.0 + 0.55 * Math.cos(season) + floods.reduce((sum, rise) => sum + rise, 0);
}

export interface Piezometer {
  readonly point: string;
  readonly chainage_m: number;
  readonly base_m: number;
  /** Share of the river's rise that arrives. */
  readonly share: number;
  /** Time constant of the answer. */
  readonly lag_days: number;
}

export const PIEZOMETERS: readonly Piezometer[] = Object.freeze([
  { point: "P1", chainage_m: 1852, base_m: 1.75, share: 0.62, lag_days: 0.9 },
  { point: "P2", chainage_m: 614, base_m: 1.9, share: 0.2, lag_days: 7 },
]);

export const WATER_HEADER = ["time", "point", "level_m", "chainage_m"];

export function waterRows(): readonly (readonly Cell[])[] {
  const rows: { time_ms: number; cells: readonly Cell[] }[] = [];
  const random = chance("waters");
  const heads = PIEZOMETERS.map(() => 0.2);
  for (let hour = 0; hour <= DAYS * 24; hour += 6) {
    const time_ms = FIRST_MS + hour * HOUR_MS;
    const stage_m = riverStage_m(time_ms);
    PIEZOMETERS.forEach((p, k) => {
      const towards = p.share * (stage_m - 1.7);
      heads[k]! += (towards - heads[k]!) * (1 - Math.exp(-0.25 / p.lag_days));
    });
    if (hour % 24 !== 0) continue;
    const level = (value: number) => fixed(value + 0.012 * random.normal(), 2);
    rows.push({ time_ms, cells: [isoTime(time_ms), "river", level(stage_m), null] });
    if (hour % 48 !== 0) continue;
    PIEZOMETERS.forEach((p, k) => {
      const read_ms = time_ms + (k + 1) * HOUR_MS;
      const head_m = p.base_m + heads[k]!;
      const cells = [isoTime(read_ms), p.point, level(head_m), fixed(p.chainage_m, 1)];
      rows.push({ time_ms: read_ms, cells });
    });
  }
  return rows.sort((p, q) => p.time_ms - q.time_ms).map((row) => row.cells);
}

const PROBE_DEPTHS_M = [0.2, 0.5, 1, 2, 3];
const PROBE_DATES = [
  "2031-08-13",
  "2031-09-15",
  "2031-10-14",
  "2031-11-12",
  "2031-12-15",
  "2032-01-14",
  "2032-02-16",
  "2032-03-18",
  "2032-04-14",
  "2032-05-17",
];

export const TEMPERATURE_HEADER = ["time", "depth_m", "temperature_degC"];

export function temperatureRows(): readonly (readonly Cell[])[] {
  const random = chance("soil-temperature");
  return PROBE_DATES.flatMap((date) => {
    const time_ms = Date.parse(`${date}T11:30:00+01:00`);
    return PROBE_DEPTHS_M.map((depth_m) => {
      const measured = soilTemperature_degC(depth_m, time_ms) + 0.12 * random.normal();
      return [isoTime(time_ms), fixed(depth_m, 1), fixed(measured, 1)];
    });
  });
}
