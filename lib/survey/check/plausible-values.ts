import { extent, presentCount } from "../../numerics/statistics/present.js";
import { quantile } from "../../numerics/statistics/robust.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** What loggers write where they have nothing. */
const MARKS_FOR_NONE = new Set([-999, -9999, -99999, 9999, 99999, 999999, -32768, 32767]);
/** No coil and no staff reads as much as this, in any unit. */
const BEYOND_ALL = 1e9;
/** A mark stands out: it is at least so many times what nearly all others are. */
const OUT_OF_ALL = 5;

/** True for a number that loggers write where they have nothing. */
export function standsForNone(value: number): boolean {
  return MARKS_FOR_NONE.has(value) || Math.abs(value) >= BEYOND_ALL;
}

/** Logs numbers that stand for no value: read as one they would be taken for ground. */
export function checkMarksForNone(table: CsvTable, fields: readonly string[], log: FaultLog): void {
  for (const field of fields) {
    const values = table.numbers(field);
    if (!values.some(standsForNone)) continue;
    const others = values.filter((value) => !standsForNone(value)).map(Math.abs);
    const usual = quantile(others, 0.95);
    for (const row of table.rows) {
      const value = row.number(field);
      if (!standsForNone(value) || Math.abs(value) < OUT_OF_ALL * usual) continue;
      const rule = "a reading, not a mark for none";
      const hint = 'leave the cell blank, or list the mark under "missingValues"';
      log.add({ code: "mark-for-none", ...row.place(field), rule, value: String(value), hint });
    }
  }
}

/** Notes which channels have no value at all. */
export function noteEmptyChannels(table: CsvTable, fields: readonly string[], log: FaultLog): void {
  for (const field of new Set(fields)) {
    if (!table.has(field) || table.count === 0) continue;
    if (presentCount(table.numbers(field)) > 0) continue;
    log.caution(`${table.file}: channel ${field} has no value in any row`);
  }
}

/** Fewer positions than this may be those of a short test. */
const FROZEN_FROM = 5;

/** Logs a walk all of whose positions are one. */
export function checkFrozenPositions(table: CsvTable, log: FaultLog): void {
  for (const [x, y] of [
    ["longitude", "latitude"],
    ["easting", "northing"],
  ] as const) {
    const [xs, ys] = [extent(table.numbers(x)), extent(table.numbers(y))];
    if (presentCount(table.numbers(x)) < FROZEN_FROM) continue;
    if (!(xs.least === xs.most && ys.least === ys.most)) continue;
    const rule = "the positions of a walk";
    const value = `one position in all rows (${xs.least}, ${ys.least})`;
    const hint = "the receiver may have held its last position";
    log.add({ code: "positions-frozen", file: table.file, field: x, rule, value, hint });
  }
}

/** Soil that anyone walks on is rarely warmer than this in the mean, °C. */
const WARMEST_DEGC = 40;
/** A probe goes no deeper than this, m. */
const DEEPEST_M = 30;

/** Logs soil temperatures that are in another unit by the look of them. */
export function checkSoilUnits(table: CsvTable, log: FaultLog): void {
  const typical = quantile(table.numbers("temperature_degC"), 0.5);
  const place = { code: "unit-suspicious", file: table.file };
  if (typical > WARMEST_DEGC) {
    const value = `a median of ${Number(typical.toPrecision(3))}`;
    const hint = "looks like °F, expected °C";
    log.add({ ...place, field: "temperature_degC", rule: "in °C", value, hint });
  }
  const deepest = extent(table.numbers("depth_m")).most;
  if (deepest > DEEPEST_M) {
    const value = `a depth of ${deepest}`;
    log.add({ ...place, field: "depth_m", rule: "in m", value, hint: "looks like cm, expected m" });
  }
}
