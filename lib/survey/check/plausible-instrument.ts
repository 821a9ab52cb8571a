import { median } from "../../numerics/statistics/robust.js";
import type { Channel, Instrument } from "../instrument.js";
import { PACKAGE_FILE } from "../read/package/package-schema.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** Coils that are walked: what is outside is in another unit, common practice. */
const LOWEST_HZ = 100;
const HIGHEST_HZ = 1e6;
const NARROWEST_M = 0.1;
const WIDEST_M = 60;
const HIGHEST_M = 10;
const CARRIED_M = 2.5;

const MM_FROM_M = 600;

/** What a number out of range likely is; null where nothing comes to mind. */
const HINTS = {
  Hz: (value: number) => (value < LOWEST_HZ ? "looks like kHz, expected Hz" : null),
  m: (value: number) =>
    value < NARROWEST_M ? null : `looks like ${value > MM_FROM_M ? "mm" : "cm"}, expected m`,
} as const;

const isFrequency = (hertz: number) => hertz >= LOWEST_HZ && hertz <= HIGHEST_HZ;
const isSpacing = (metres: number) => metres >= NARROWEST_M && metres <= WIDEST_M;

/** True for a channel whose coils may be those of something that is walked. */
export function isWalked({ frequency_Hz, separation_m }: Channel): boolean {
  return isFrequency(frequency_Hz) && isSpacing(separation_m);
}

/** Logs an instrument whose sizes are likely in another unit, and channels that are the same. */
export function checkInstrument(table: CsvTable, instrument: Instrument, log: FaultLog): void {
  const { channels, height_m } = instrument;
  const suspect = (file: string, field: string, unit: keyof typeof HINTS) => (value: number) => {
    const about = { rule: `in ${unit}`, value: String(value), hint: HINTS[unit](value) };
    log.add({ code: "unit-suspicious", file, field, ...about });
  };
  const at = `resource ${table.resource.name}`;
  if (height_m > CARRIED_M && height_m <= HIGHEST_M) {
    log.caution(`${at}: coils ${height_m} m above ground are higher than anybody carries them`);
  }
  if (height_m > HIGHEST_M) suspect(PACKAGE_FILE, `${at}, height_m`, "m")(height_m);
  checkHeights(table, log);
  checkDistinct(table, channels, log);
  for (const { field, frequency_Hz, separation_m } of channels) {
    const own = `${at}, channel ${field}`;
    if (!isFrequency(frequency_Hz)) {
      suspect(PACKAGE_FILE, `${own}, frequency_Hz`, "Hz")(frequency_Hz);
    }
    if (!isSpacing(separation_m)) {
      suspect(PACKAGE_FILE, `${own}, separation_m`, "m")(separation_m);
    }
  }
}

/** Heights in another unit, in all rows or in some. */
function checkHeights(table: CsvTable, log: FaultLog): void {
  const heights = table.numbers("height_m");
  const typical = median(heights.filter((height) => !Number.isNaN(height)));
  const about = { code: "unit-suspicious", rule: "in m" };
  if (typical > HIGHEST_M) {
    const place = { file: table.file, field: "height_m" };
    log.add({ ...about, ...place, value: `a median of ${typical}`, hint: HINTS.m(typical) });
    return;
  }
  for (const row of table.rows) {
    const height_m = row.number("height_m");
    if (!(height_m > HIGHEST_M)) continue;
    const value = String(height_m);
    log.add({ ...about, ...row.place("height_m"), value, hint: HINTS.m(height_m) });
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
