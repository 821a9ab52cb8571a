import type { FaultLog } from "../check/faults.js";
import { checkMarksForNone } from "../check/plausible-values.js";
import type { SoilTemperature, WaterLevel } from "../monitoring.js";
import type { Incident } from "../notes.js";
import { checkChainages } from "./frame/check-chainages.js";
import type { Frame } from "./frame/locate.js";
import type { CsvTable } from "./table/csv-table.js";

/** Soil temperatures; rows without a temperature are left out. */
export function readSoilTemperature({ rows }: CsvTable): readonly SoilTemperature[] {
  return rows
    .map((row) => ({
      time_s: row.number("time"),
      ...row.numbers("depth_m", "temperature_degC"),
    }))
    .filter(({ temperature_degC }) => !Number.isNaN(temperature_degC));
}

/** Water levels; rows without a level are left out. */
export function readWaterLevels(
  table: CsvTable,
  frame: Frame,
  log: FaultLog,
): readonly WaterLevel[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  checkMarksForNone(table, ["level_m"], log);
  return table.rows
    .map((row) => ({
      time_s: row.number("time"),
      ...row.texts("point"),
      ...row.numbers("level_m"),
      ...row.numbersOrNull("chainage_m"),
    }))
    .filter(({ level_m }) => !Number.isNaN(level_m));
}

export function readIncidents(table: CsvTable, frame: Frame, log: FaultLog): readonly Incident[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  return table.rows.map((row) => ({
    ...row.texts("date", "kind", "text"),
    ...row.numbers("chainage_m"),
  }));
}
