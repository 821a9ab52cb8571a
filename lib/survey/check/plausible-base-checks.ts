import { groupedBy } from "../../numerics/arrays.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { listText } from "../../step/list-text.js";
import { countText } from "../../step/show/html.js";
import type { BaseCheck } from "../campaign.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** So many numbers of a visit that are those of an earlier one are no chance. */
const NUMBERS = 3;
/** Checks further apart than this are of two visits, s. */
const VISIT_S = 120;

/** Notes visits whose values are those of an earlier visit, number for number. */
export function noteCopiedChecks(checks: readonly BaseCheck[], log: FaultLog): void {
  let copied = 0;
  for (const own of groupedBy(checks, ({ spot }) => spot).values()) {
    const first = new Set<string>();
    for (const visit of visitsOf(own)) {
      const numbers = visit.map(({ values }) => Object.entries(values));
      const key = JSON.stringify(numbers);
      if (first.has(key) && numbers.flat().length >= NUMBERS) copied += visit.length;
      first.add(key);
    }
  }
  if (copied === 0) return;
  const count = countText(copied, "row");
  log.caution(`${checks[0]?.file}: ${count} with all the values of an earlier visit; copied?`);
}

/** Checks in the order of time, those of one visit together. */
function visitsOf(checks: readonly BaseCheck[]): readonly (readonly BaseCheck[])[] {
  const visits: BaseCheck[][] = [];
  for (const check of checks) {
    const last = visits.at(-1)?.at(-1);
    if (last !== undefined && check.time_s - last.time_s <= VISIT_S) visits.at(-1)?.push(check);
    else visits.push([check]);
  }
  return visits;
}

/** Channels that a caution names; the rest is counted. */
const NAMED = 5;

/** Notes channels of a campaign that none of its base checks repeats. */
export function noteUncheckedChannels(tables: readonly CsvTable[], log: FaultLog): void {
  const channels = tables.flatMap(({ resource }) => resource.instrument?.channels ?? []);
  const fields = new Set(channels.map(({ field }) => field));
  const isChecked = (field: string) =>
    tables.some((table) => table.has(field) && presentCount(table.numbers(field)) > 0);
  const unchecked = [...fields].filter((field) => !isChecked(field));
  if (unchecked.length === 0 || unchecked.length === fields.size) return;
  const more = unchecked.length - NAMED;
  const named = unchecked.slice(0, NAMED);
  const list = more > 0 ? `${named.join(", ")} and ${more} more` : listText(named);
  const files = listText(tables.map(({ file }) => file));
  log.caution(`${files}: no checks of ${list}; their drift is known by crossings only`);
}

/** Ground at the spot is the bank's: its readings are not so many times theirs. */
const TIMES = 30;

/** Notes channels whose checks are of another size than the readings. */
export function noteOtherSize(table: CsvTable, readings: readonly CsvTable[], log: FaultLog): void {
  const size = (one: CsvTable, field: string) =>
    median(
      one
        .numbers(field)
        .filter((value) => !Number.isNaN(value))
        .map(Math.abs),
    );
  for (const walked of readings) {
    for (const { field, kind } of walked.resource.instrument?.channels ?? []) {
      if (kind === "inphase" || !table.has(field)) continue;
      const times = size(table, field) / size(walked, field);
      if (!Number.isFinite(times)) continue;
      if (!(times > TIMES || times < 1 / TIMES)) continue;
      const how = `${Number(times.toPrecision(2)).toLocaleString("en")} times`;
      log.caution(`${table.file}: checks of ${field} are ${how} the readings; in one unit?`);
    }
  }
}

const HOUR_S = 3600;

/** Notes checks of the readings' day none of which is within an hour of them. */
export function noteFarChecks(
  table: CsvTable,
  { first_s, last_s }: { readonly first_s: number; readonly last_s: number },
  log: FaultLog,
): void {
  const times = [...table.numbers("time")].filter((time) => !Number.isNaN(time));
  const off_s = times.map((time) => Math.max(first_s - time, time - last_s));
  const nearest_s = off_s.reduce((least, off) => Math.min(least, off), Number.POSITIVE_INFINITY);
  if (!(nearest_s > HOUR_S && nearest_s < 24 * HOUR_S)) return;
  const hours = (nearest_s / HOUR_S).toFixed(1);
  log.caution(
    `${table.file}: the nearest check is ${hours} h from the readings; whose clock is off?`,
  );
}
