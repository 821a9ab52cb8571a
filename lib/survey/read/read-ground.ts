import { checkChainages } from "../bank/chainage-range.js";
import type { Frame } from "../bank/locate.js";
import type { FaultLog } from "../check/faults.js";
import { checkMarksForNone } from "../check/plausible-values.js";
import type { Incident, SoilTemperature, WaterLevel } from "../survey.js";
import type { Table } from "./table.js";

/** Soil temperatures; rows without a temperature are left out. */
export function readSoilTemperature(table: Table): readonly SoilTemperature[] {
  const time_s = table.numbers("time");
  const depth_m = table.numbers("depth_m");
  const temperature_degC = table.numbers("temperature_degC");
  return Array.from(temperature_degC, (temperature, i) => ({
    time_s: time_s[i]!,
    depth_m: depth_m[i]!,
    temperature_degC: temperature,
  })).filter((row) => !Number.isNaN(row.temperature_degC));
}

/** Water levels; rows without a level are left out. */
export function readWaterLevels(table: Table, frame: Frame, log: FaultLog): readonly WaterLevel[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  checkMarksForNone(table, ["level_m"], log);
  const time_s = table.numbers("time");
  const point = table.texts("point");
  const chainage_m = table.numbers("chainage_m");
  return Array.from(table.numbers("level_m"), (level_m, i) => ({
    time_s: time_s[i]!,
    point: point[i]!,
    level_m,
    chainage_m: Number.isNaN(chainage_m[i]) ? null : chainage_m[i]!,
  })).filter((row) => !Number.isNaN(row.level_m));
}

export function readIncidents(table: Table, frame: Frame, log: FaultLog): readonly Incident[] {
  checkChainages(table, ["chainage_m"], { frame, log });
  const date = table.texts("date");
  const kind = table.texts("kind");
  const text = table.texts("text");
  return Array.from(table.numbers("chainage_m"), (chainage_m, i) => ({
    date: date[i]!,
    chainage_m,
    kind: kind[i]!,
    text: text[i]!,
  }));
}
