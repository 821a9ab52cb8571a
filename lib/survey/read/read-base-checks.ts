import { quoted } from "../../step/step-error.js";
import type { FaultLog } from "../check/faults.js";
import { checkMarksForNone } from "../check/plausible-values.js";
import { utcText } from "../iso-time.js";
import type { BaseCheck, Channel } from "../survey.js";
import { checkTimes } from "./read-readings.js";
import type { Table } from "./table.js";

/** The repeats at fixed spots of one campaign, in the order of time. */
export function readBaseChecks(
  table: Table,
  channels: readonly Channel[],
  log: FaultLog,
): readonly BaseCheck[] {
  const fields = [...new Set(channels.map(({ field }) => field))].filter(table.has);
  if (fields.length === 0 && channels.length > 0) {
    const rule = "there for one channel of the campaign or more";
    const place = { file: table.file, row: 1, field: "channels" };
    log.add({ code: "missing-column", ...place, rule, value: "no channel's column" });
  }
  checkMarksForNone(table, fields, log);
  const spot = table.texts("spot");
  for (const name of new Set(spot)) {
    checkTimes(
      table,
      log,
      [...spot.keys()].filter((i) => spot[i] === name),
    );
  }
  const time_s = table.numbers("time");
  const checks = Array.from({ length: table.count }, (_, i) => ({
    file: table.file,
    row: table.row[i]!,
    time_s: time_s[i]!,
    spot: spot[i]!,
    values: presentValues(table, fields, i),
  }));
  return checks.sort((one, other) => one.time_s - other.time_s);
}

function presentValues(table: Table, fields: readonly string[], i: number): Record<string, number> {
  const pairs = fields.map((field) => [field, table.numbers(field)[i]!] as const);
  return Object.fromEntries(pairs.filter(([, value]) => !Number.isNaN(value)));
}

/** Base checks this far from the readings are not of their day, s. */
const OTHER_DAY_S = 86400;

/** Logs base checks all of which are a day or more away from their campaign's readings. */
export function checkDay(
  table: Table,
  { first_s, last_s }: { readonly first_s: number; readonly last_s: number },
  log: FaultLog,
): void {
  const times = table.numbers("time").filter((time) => !Number.isNaN(time));
  const off_s = times.map((time) => Math.max(first_s - time, time - last_s));
  if (off_s.length === 0 || !off_s.every((off) => off > OTHER_DAY_S)) return;
  const place = { file: table.file, row: table.row[0]!, field: "time" };
  const [from, to] = [first_s, last_s].map((time) => utcText(time)?.slice(0, 10));
  const rule = from === to ? `of the readings' day, ${from}` : `of their days, ${from} to ${to}`;
  const value = quoted(utcText(times[0]!));
  const days = Math.round(off_s.reduce((least, off) => Math.min(least, off)) / 86400);
  const cause = isRollover(days)
    ? "1,024 weeks: a receiver's count of weeks ran over"
    : "is one of the clocks wrong, or the campaign?";
  const hint = `${days.toLocaleString("en")} days away; ${cause}`;
  log.add({ code: "other-day", ...place, rule, value, hint });
}

/** GPS counts weeks to 1,024 and begins again (IS-GPS-200, 20.3.3.3.1.1). */
function isRollover(days: number): boolean {
  return Math.abs(days - 7 * 1024) <= 2;
}
