import type { FaultLog } from "./faults.js";
import { checkTimes } from "./read-readings.js";
import type { BaseCheck, Channel } from "./survey.js";
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
