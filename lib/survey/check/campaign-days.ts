import { quoted } from "../../step/step-error.js";
import { utcText } from "../iso-time.js";
import type { CsvTable } from "../read/table/csv-table.js";
import { timeSpan } from "../time-span.js";
import type { FaultLog } from "./faults.js";

const DAY_S = 86400;
/** The walks of a campaign are of one state of the ground: days of weather at the most. */
const NOTED_DAYS = 31;
const REFUSED_DAYS = 150;

/** Notes a campaign whose label is a month, and another one than that of its first reading. */
export function noteLabelMonth(table: CsvTable, log: FaultLog): void {
  const label = table.resource.campaign ?? "";
  const month = utcText(timeSpan([{ time_s: table.numbers("time") }]).first_s)?.slice(0, 7);
  if (month === undefined || !/^\d{4}-\d\d$/.test(label)) return;
  const apart = Math.abs(monthsOf(label) - monthsOf(month));
  if (apart < 2) return;
  log.caution(`${table.file} was read in ${month}, and its campaign is ${label}`);
}

function monthsOf(month: string): number {
  return 12 * Number(month.slice(0, 4)) + Number(month.slice(5));
}

/** Logs walks that are dated too far from the first walk of their campaign to belong to it. */
export function checkCampaignDays(tables: readonly CsvTable[], log: FaultLog): void {
  const starts = tables.map((table) => {
    const { first_s } = timeSpan([{ time_s: table.numbers("time") }]);
    return { table, first_s };
  });
  const dated = starts.filter(({ first_s }) => !Number.isNaN(first_s));
  dated.sort((one, other) => one.first_s - other.first_s);
  const [first] = dated;
  if (first === undefined) return;
  for (const { table, first_s } of dated) {
    const days = Math.round((first_s - first.first_s) / DAY_S);
    const [from, to] = [first.first_s, first_s].map((time) => utcText(time)?.slice(0, 10));
    if (days > REFUSED_DAYS) {
      const rule = `of one campaign with ${first.table.file}, ${from}`;
      const hint = `${days} days apart; give it a campaign of its own, or is its clock wrong?`;
      const place = { file: table.file, field: "time" };
      log.add({ code: "other-campaign", ...place, rule, value: quoted(to), hint });
    } else if (days > NOTED_DAYS) {
      log.caution(`${table.file} is ${days} days from ${first.table.file} of the same campaign`);
    }
  }
}
