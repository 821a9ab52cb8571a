import { type ZoneReader, zoneReader } from "../../time-zone.js";
import type { Enquiry } from "../enquiry.js";
import { DATE_ORDERS, type DateOrder, dayNumber, possibleOrders } from "../values/date-text.js";
import { type Column, meant } from "./column.js";
import { type LocalReader, type LocalTime, type TimeSource, timeSource } from "./time-source.js";

/** How the time of a row is read. */
export interface TimePlan {
  /** Columns that it is read from. */
  readonly from: readonly string[];
  /** In words, for the record. */
  readonly how: string;
  /** Seconds since 1970; null where blank, a cause where it cannot be read. */
  readonly read: (cells: readonly string[]) => number | null | { readonly cause: string };
}

const DAY_S = 86_400;

/** The time of a row, from one column or two; null while it is not known how. */
export function settleTime(
  file: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): TimePlan | null {
  const source = timeSource(file, columns, enquiry);
  if (source === null) return null;
  const order = source.dates.length === 0 ? null : settleOrder(file, source.dates, enquiry);
  const day = source.hasDate ? null : settleDay(file, enquiry);
  const local = localReader(source.read, order, day);
  const zone = source.isUtc
    ? "UTC"
    : settleZone(file, { columns, local, rows: source.rows }, enquiry);
  if (!isReadable(file, source, local, enquiry)) return null;
  const reader = zone === null ? null : zoneReader(zone);
  if (reader === null || (source.dates.length > 0 && order === null)) return null;
  const repeated = settleRepeated(file, { local, reader, rows: source.rows }, enquiry);
  const how = [source.how, order, day, zone].filter((word) => word !== null).join(", ");
  return { from: source.from, how, read: (cells) => zoned(local(cells), reader, repeated) };
}

/** A column hardly any cell of which can be read is in a form that is not known here. */
function isReadable(
  file: string,
  { rows, from, dates }: TimeSource,
  local: Local,
  enquiry: Enquiry,
): boolean {
  const read = rows.map(local).filter((found) => found !== "blank");
  const bad = read.filter((found) => found === "unreadable").length;
  const isOpen = dates.length > 0 && enquiry.questions.some(({ name }) => /^date/.test(name));
  if (isOpen || bad <= 0.5 * read.length) return true;
  const example = (rows[0] ?? []).filter((cell) => cell !== "").join(" ");
  const columns = from.map((header) => `"${header}"`).join(", ");
  enquiry.fault(`${file}: ${columns} must hold times that can be read, got "${example}"`);
  return false;
}

type Local = (cells: readonly string[]) => Extract<LocalTime, object> | "blank" | "unreadable";

/** Local seconds since 1970 of a row. */
function localReader(read: LocalReader, order: DateOrder | null, day: string | null): Local {
  const fixed = day === null ? Number.NaN : Date.parse(`${day}T00:00:00Z`) / 1000;
  return (cells) => {
    const found = read(cells);
    if (typeof found === "string") return found;
    const { parts, seconds, offset_s } = found;
    const start =
      parts === null ? fixed : order === null ? Number.NaN : DAY_S * dayNumber(parts, order);
    const base = found.isAbsolute ? 0 : start;
    return Number.isFinite(base + seconds)
      ? { parts, seconds: base + seconds, offset_s, isAbsolute: found.isAbsolute }
      : "unreadable";
  };
}

function zoned(found: ReturnType<Local>, reader: ZoneReader, repeated: string | null) {
  if (found === "blank") return null;
  if (found === "unreadable") return { cause: "a time that cannot be read" };
  if (found.offset_s !== null) return found.seconds - found.offset_s;
  const time = reader(found.seconds);
  if (typeof time === "number") return time;
  if (time === "skipped") return { cause: "a local time that the clocks skip" };
  if (repeated === null) return { cause: "a local time that the clocks show twice" };
  return repeated === "earlier" ? time.earlier_s : time.later_s;
}

function settleOrder(
  file: string,
  dates: readonly (readonly [string, string, string])[],
  enquiry: Enquiry,
): DateOrder | null {
  const { orders, doubt } = ordersOf(dates);
  const [only] = orders;
  const example = dates[0]?.join("-") ?? "";
  if (only === undefined) {
    enquiry.fault(`${file}: must have dates in one order of day, month and year, got ${example}`);
    return null;
  }
  // Of dates such as 14-Oct-31 nobody puts the year first; of 03/04/2031 nothing can be said.
  const isNamed = orders.includes("day/month/year") && !/^\d+$/.test(dates[0]?.[1] ?? "0");
  return enquiry.settle({
    file,
    name: "date order",
    ask: `In which order do the parts of a date stand, such as ${example}?`,
    guess: orders.length === 1 ? only : isNamed ? "day/month/year" : null,
    why:
      orders.length === 1
        ? `the only order in which all dates${doubt} are days of the calendar`
        : `all dates are days of the calendar as ${orders.join(" and as ")}`,
    isSure: orders.length === 1,
    choices: orders.length === 1 ? DATE_ORDERS : orders,
  }) as DateOrder | null;
}

/** Orders that hold for all dates, or, where a few cells are spoiled, for nearly all. */
function ordersOf(dates: readonly (readonly [string, string, string])[]) {
  const all = possibleOrders(dates);
  if (all.length > 0) return { orders: all, doubt: "" };
  const held = (order: DateOrder) =>
    dates.filter((parts) => !Number.isNaN(dayNumber(parts, order))).length / dates.length;
  const most = DATE_ORDERS.filter((order) => held(order) > 0.98);
  return { orders: most.length === 1 ? most : [], doubt: ", but for a few," };
}

function settleDay(file: string, enquiry: Enquiry): string | null {
  const isDay = (text: string) =>
    /^\d{4}-\d\d-\d\d$/.test(text) && !Number.isNaN(Date.parse(`${text}T00:00:00Z`));
  return enquiry.settle({
    file,
    name: "date",
    ask: "On which day was it measured?",
    guess: null,
    why: "there are times of day and no dates",
    broken: (answer) => (isDay(answer) ? null : "a day such as 2031-10-14"),
  });
}

interface ZoneEvidence {
  readonly columns: readonly Column[];
  readonly local: Local;
  readonly rows: readonly (readonly string[])[];
}

function settleZone(
  file: string,
  { columns, local, rows }: ZoneEvidence,
  enquiry: Enquiry,
): string | null {
  const read = rows.map(local).filter((found) => typeof found === "object");
  if (read.length > 0 && read.every(({ offset_s }) => offset_s !== null)) return "UTC";
  const names = [...meant(columns, "time"), ...meant(columns, "date")];
  const utc = names.find(({ all, unit }) => /\b(utc|gmt)\b/i.test(`${all} ${unit}`));
  return enquiry.settle({
    file,
    name: "timezone",
    isShared: true,
    ask: "In which time zone are the times (UTC, +01:00, Europe/Amsterdam …)?",
    guess: utc === undefined ? null : "UTC",
    why: utc === undefined ? "the file does not say" : `the column "${utc.header}" says so`,
    isSure: utc !== undefined,
    broken: (answer) =>
      zoneReader(answer) === null ? "UTC, an offset such as +01:00 or an IANA time zone" : null,
  });
}

function settleRepeated(
  file: string,
  { local, reader, rows }: Omit<ZoneEvidence, "columns"> & { readonly reader: ZoneReader },
  enquiry: Enquiry,
): string | null {
  const twice = rows.filter((cells) => {
    const found = local(cells);
    return (
      typeof found === "object" &&
      found.offset_s === null &&
      typeof reader(found.seconds) === "object"
    );
  });
  if (twice.length === 0) return null;
  return enquiry.settle({
    file,
    name: "repeated hour",
    ask: "The clocks were put back and showed these times twice: were they the earlier or the later?",
    guess: null,
    why: `${twice.length} of the rows looked at lie in the hour that came twice`,
    choices: ["earlier", "later"],
  });
}
