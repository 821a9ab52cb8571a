import { quantile } from "../../numerics/statistics/robust.js";
import type { Channel } from "../instrument.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

// Ground rarely conducts less than 1 mS/m, and coils over ground rarely read under 1 ppm.
const SMALLEST_MEDIAN = { "mS/m": 0.3, ppm: 0.02 } as const;
// Sea water conducts about 5,000 mS/m, and no secondary field is larger than the primary.
const LARGEST_MEDIAN = { "mS/m": 6000, ppm: 1e6 } as const;

const SMALL_HINTS = {
  "mS/m": "looks like S/m, expected mS/m",
  ppm: "looks like a ratio, expected ppm",
} as const;
const LARGE_HINTS = {
  "mS/m": "more than sea water conducts; looks like µS/m or µS/cm, expected mS/m",
  ppm: "more than the primary field; looks like ppb, expected ppm",
} as const;

/** Logs channels whose unit does not fit their kind, or whose values do not fit their unit. */
export function checkUnits(table: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  for (const channel of channels) {
    const { field, kind, unit } = channel;
    const expected = kind === "conductivity" ? "mS/m" : "ppm";
    const place = { file: table.file, field };
    if (unit !== expected) {
      const rule = `in ${expected}, being ${kind}`;
      log.add({ code: "unit-kind", ...place, rule, value: unit });
    } else if (kind !== "inphase") {
      checkSize(table, channel, log);
    }
  }
}

function checkSize(table: CsvTable, { field, unit }: Channel, log: FaultLog): void {
  const typical = quantile(table.numbers(field).map(Math.abs), 0.5);
  const isSmall = typical > 0 && typical < SMALLEST_MEDIAN[unit];
  if (!isSmall && !(typical > LARGEST_MEDIAN[unit])) return;
  const hint = isSmall ? SMALL_HINTS[unit] : LARGE_HINTS[unit];
  const rule = `in ${unit}`;
  const value = `a median size of ${Number(typical.toPrecision(3))}`;
  log.add({ code: "unit-suspicious", file: table.file, field, rule, value, hint });
}
