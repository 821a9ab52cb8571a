import { median } from "../../numerics/robust.js";
import { PACKAGE_FILE } from "../read/read-descriptor.js";
import type { Table } from "../read/table.js";
import type { Channel, Instrument } from "../survey.js";
import type { FaultLog } from "./faults.js";

/** Coils that are walked: what is outside is in another unit, common practice. */
const LOWEST_HZ = 100;
const WIDEST_M = 60;
const HIGHEST_M = 10;

/** Logs an instrument whose sizes are in another unit by the look of them, and channels that are one. */
export function checkInstrument(table: Table, instrument: Instrument, log: FaultLog): void {
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

function checkHeights(table: Table, height_m: number, log: FaultLog): void {
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
function checkDistinct({ file }: Table, channels: readonly Channel[], log: FaultLog): void {
  const fields = channels.map(({ field }) => field);
  for (const field of new Set(fields.filter((name, i) => fields.indexOf(name) !== i))) {
    const rule = "the field of one channel";
    log.add({ code: "duplicate-channel", file, field, rule, value: "two channels" });
  }
  const keyOf = ({ kind, frequency_Hz, separation_m, orientation }: Channel) =>
    [kind, frequency_Hz, separation_m, orientation].join("/");
  const keys = channels.map(keyOf);
  for (const [i, { field }] of channels.entries()) {
    const first = channels[keys.indexOf(keys[i]!)]!;
    if (first.field === field) continue;
    const rule = "another kind, frequency, spacing or orientation than every other channel";
    const value = `those of ${first.field}`;
    log.add({ code: "duplicate-channel", file, field, rule, value });
  }
}
