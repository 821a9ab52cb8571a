import { extent } from "../../numerics/statistics/present.js";
import { quoted } from "../../step/step-error.js";
import type { BaseCheck } from "../campaign.js";
import type { FaultLog } from "../check/faults.js";
import { noteCopiedChecks } from "../check/plausible-base-checks.js";
import { checkMarksForNone } from "../check/plausible-values.js";
import { noteSimilarNames } from "../check/similar-names.js";
import type { Channel } from "../instrument.js";
import { utcText } from "../iso-time.js";
import { checkTimes } from "./check-times.js";
import type { CsvRow, CsvTable } from "./table/csv-table.js";

/** The repeats at fixed spots of one campaign, in the order of time. */
export function readBaseChecks(
  table: CsvTable,
  channels: readonly Channel[],
  log: FaultLog,
): readonly BaseCheck[] {
  const { rows } = table;
  const all = new Set(channels.map(({ field }) => field));
  const fields = [...all].filter((field) => table.has(field));
  if (fields.length === 0 && channels.length > 0) {
    const rule = "there for one channel of the campaign or more";
    const place = { file: table.file, row: 1, field: "channels" };
    log.add({ code: "missing-column", ...place, rule, value: "no channel's column" });
  }
  checkMarksForNone(table, fields, log);
  for (const spot of new Set(table.texts("spot"))) {
    const own = rows.filter((row) => row.text("spot") === spot);
    checkTimes(own, log);
  }
  const checks = rows
    .map((row) => ({
      file: table.file,
      row: row.line,
      time_s: row.number("time"),
      spot: row.text("spot"),
      values: presentValues(row, fields),
    }))
    .sort((one, other) => one.time_s - other.time_s);
  noteCopiedChecks(checks, log);
  noteSimilarNames(table.texts("spot"), { file: table.file, what: "spots" }, log);
  return checks;
}

function presentValues(row: CsvRow, fields: readonly string[]): Record<string, number> {
  const pairs = fields.map((field) => [field, row.number(field)] as const);
  return Object.fromEntries(pairs.filter(([, value]) => !Number.isNaN(value)));
}

/** Base checks this far from the readings are not of their day, s. */
const DAY_S = 86400;

/** Logs base checks all of which are a day or more away from their campaign's readings. */
export function checkDay(
  { rows }: CsvTable,
  { first_s, last_s }: { readonly first_s: number; readonly last_s: number },
  log: FaultLog,
): void {
  const [first] = rows;
  const times = rows.map((row) => row.number("time")).filter((time) => !Number.isNaN(time));
  const off_s = times.map((time) => Math.max(first_s - time, time - last_s));
  if (first === undefined || off_s.length === 0 || !off_s.every((off) => off > DAY_S)) return;
  const [from, to] = [first_s, last_s].map((time) => utcText(time)?.slice(0, 10));
  const rule = from === to ? `of the readings' day, ${from}` : `of their days, ${from} to ${to}`;
  const value = quoted(utcText(times[0] ?? Number.NaN));
  const days = Math.round(extent(off_s).least / DAY_S);
  const cause = isRollover(days)
    ? "1,024 weeks: a receiver's count of weeks ran over"
    : "is one of the clocks wrong, or the campaign?";
  const hint = `${days.toLocaleString("en")} days away; ${cause}`;
  log.add({ code: "other-day", ...first.place("time"), rule, value, hint });
}

/** GPS counts weeks to 1,024 and begins again (IS-GPS-200, 20.3.3.3.1.1). */
function isRollover(days: number): boolean {
  return Math.abs(days - 7 * 1024) <= 2;
}
