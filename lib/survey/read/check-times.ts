import { quoted } from "../../step/step-error.js";
import type { FaultLog } from "../check/faults.js";
import { utcText } from "../iso-time.js";
import type { CsvRow } from "./table/csv-table.js";

const HOUR_S = 3600;

/** Times must not run backwards; a jump ahead that later rows undo is one fault at its end. */
export function checkTimes(rows: readonly CsvRow[], log: FaultLog): void {
  let previous = Number.NEGATIVE_INFINITY;
  for (const row of rows) {
    const time_s = row.number("time");
    if (Number.isNaN(time_s)) continue;
    if (time_s < previous) {
      const rule = `no earlier than the row before (${utcText(previous)})`;
      const value = quoted(utcText(time_s));
      const isHour = Math.abs(previous - time_s - HOUR_S) < HOUR_S / 6;
      const hint = isHour ? "an hour; did the offset or the clock change?" : null;
      log.add({ code: "time-backwards", ...row.place("time"), rule, value, hint });
    }
    previous = time_s;
  }
}
