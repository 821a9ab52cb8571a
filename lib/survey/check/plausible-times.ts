import { extent, presentCount } from "../../numerics/statistics/present.js";
import { quoted } from "../../step/step-error.js";
import { utcText } from "../iso-time.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** No coil pair was walked before, and no survey is interpreted so long ahead (common practice). */
const FIRST_YEAR = 1950;
export const LAST_YEAR = 2100;

/** Logs times of years in which nothing of a survey was measured. */
export function checkYears(table: CsvTable, log: FaultLog): void {
  if (!table.has("time")) return;
  for (const row of table.rows) {
    const year = new Date(1000 * row.number("time")).getUTCFullYear();
    if (Number.isNaN(year) || (year >= FIRST_YEAR && year <= LAST_YEAR)) continue;
    const rule = `of the years ${FIRST_YEAR} to ${LAST_YEAR}`;
    const value = quoted(utcText(row.number("time")));
    log.add({ code: "year-range", ...row.place("time"), rule, value });
  }
}

/** Fewer times than this may be those of a short test. */
const FROZEN_FROM = 5;

/** Logs a walk all of whose times are one instant. */
export function checkFrozenTimes(table: CsvTable, log: FaultLog): void {
  const times = table.numbers("time");
  const { least, most } = extent(times);
  if (presentCount(times) < FROZEN_FROM || least !== most) return;
  const rule = "the times of a walk";
  const value = `one time in all rows (${utcText(least)})`;
  const hint = "leave the cells blank where the time was not recorded";
  log.add({ code: "times-frozen", file: table.file, field: "time", rule, value, hint });
}
