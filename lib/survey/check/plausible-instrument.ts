import { median } from "../../numerics/statistics/robust.js";
import type { Channel, Instrument } from "../instrument.js";
import { PACKAGE_FILE } from "../read/package/package-schema.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** Coils that are walked: what is outside is in another unit, common practice. */
const LOWEST_HZ = 100;
const WIDEST_M = 60;
const HIGHEST_M = 10;

const HINTS = { Hz: "looks like kHz, expected Hz", m: "looks like cm, expected m" } as const;

/** Logs an instrument whose sizes are likely in another unit, and channels that are the same. */
export function checkInstrument(table: CsvTable, instrument: Instrument, log: FaultLog): void {
  const { channels, height_m } = instrument;
  const suspect = (file: string, field: string, unit: keyof typeof HINTS) => (value: string) =>
    log.add({ code: "unit-suspicious", file, field, rule: `in ${unit}`, value, hint: HINTS[unit] });
  const at = `resource ${table.resource.name}`;
  if (height_m > HIGHEST_M) suspect(PACKAGE_FILE, `${at}, height_m`, "m")(String(height_m));
  const typical = median(table.numbers("height_m"));
  if (typical > HIGHEST_M) suspect(table.file, "height_m", "m")(`a median of ${typical}`);
  checkDistinct(table, channels, log);
  for (const { field, frequency_Hz, separation_m } of channels) {
    const own = `${at}, channel ${field}`;
    if (frequency_Hz < LOWEST_HZ) {
      suspect(PACKAGE_FILE, `${own}, frequency_Hz`, "Hz")(String(frequency_Hz));
    }
    if (separation_m > WIDEST_M) {
      suspect(PACKAGE_FILE, `${own}, separation_m`, "m")(String(separation_m));
    }
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
