import { median } from "../../numerics/robust.js";
import type { Channel, Instrument } from "../instrument.js";
import { PACKAGE_FILE } from "../read/package/package-schema.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** Coils that are walked: what is outside is in another unit, common practice. */
const LOWEST_HZ = 100;
const WIDEST_M = 60;
const HIGHEST_M = 10;

/** Logs an instrument whose sizes are likely in another unit, and channels that are the same. */
export function checkInstrument(table: CsvTable, instrument: Instrument, log: FaultLog): void {
  const { channels, height_m } = instrument;
  checkHeights(table, height_m, log);
  checkDistinct(table, channels, log);
  for (const { field, frequency_Hz, separation_m } of channels) {
    const at = `resource ${table.resource.name}, channel ${field}`;
    const place = { code: "unit-suspicious", file: PACKAGE_FILE };
    if (frequency_Hz < LOWEST_HZ) {
      const hint = "looks like kHz, expected Hz";
      const value = String(frequency_Hz);
      log.add({ ...place, field: `${at}, frequency_Hz`, rule: "in Hz", value, hint });
    }
    if (separation_m > WIDEST_M) {
      const hint = "looks like cm, expected m";
      const value = String(separation_m);
      log.add({ ...place, field: `${at}, separation_m`, rule: "in m", value, hint });
    }
  }
}

function checkHeights(table: CsvTable, height_m: number, log: FaultLog): void {
  const hint = "looks like cm, expected m";
  if (height_m > HIGHEST_M) {
    const field = `resource ${table.resource.name}, height_m`;
    const value = String(height_m);
    log.add({ code: "unit-suspicious", file: PACKAGE_FILE, field, rule: "in m", value, hint });
  }
  const typical = median(table.numbers("height_m"));
  if (typical > HIGHEST_M) {
    const value = `a median of ${typical}`;
    const place = { file: table.file, field: "height_m" };
    log.add({ code: "unit-suspicious", ...place, rule: "in m", value, hint });
  }
}

/** A field serves one channel, and a channel differs from the others in more than its field. */
function checkDistinct({ file }: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  const fields = channels.map(({ field }) => field);
  for (const field of new Set(fields.filter((name, i) => fields.indexOf(name) !== i))) {
    const rule = "the field of one channel";
    log.add({ code: "duplicate-channel", file, field, rule, value: "two channels" });
  }
  const firsts = new Map<string, string>();
  for (const { field, kind, frequency_Hz, separation_m, orientation } of channels) {
    const key = [kind, frequency_Hz, separation_m, orientation].join("/");
    const first = firsts.get(key) ?? field;
    firsts.set(key, first);
    if (first === field) continue;
    const rule = "another kind, frequency, spacing or orientation than every other channel";
    const value = `those of ${first}`;
    log.add({ code: "duplicate-channel", file, field, rule, value });
  }
}
