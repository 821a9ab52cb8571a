import { countText } from "../../step/show/html.js";
import type { BaseCheck } from "../campaign.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** Numbers that are all the same in so many channels are no chance. */
const CHANNELS = 3;
/** Checks further apart than this are of two visits, s. */
const VISIT_S = 120;

/** Notes visits whose values are those of an earlier visit, number for number. */
export function noteCopiedChecks(checks: readonly BaseCheck[], log: FaultLog): void {
  const first = new Map<string, number>();
  let copied = 0;
  for (const { spot, values, time_s } of checks) {
    const numbers = Object.entries(values);
    if (numbers.length < CHANNELS) continue;
    const key = JSON.stringify([spot, numbers]);
    const earlier = first.get(key) ?? time_s;
    first.set(key, earlier);
    if (time_s - earlier > VISIT_S) copied += 1;
  }
  if (copied === 0) return;
  const count = countText(copied, "row");
  log.caution(`${checks[0]?.file}: ${count} with all the values of an earlier visit; copied?`);
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
