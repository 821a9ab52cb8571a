import { numberHint, timeHint } from "../../check/cell-hints.js";
import { isIsoDate, isoTime } from "../../iso-time.js";
import { type ZonedTime, zoneReader } from "../../time-zone.js";
import type { TableField } from "../package/descriptor.js";
import { patternReader } from "./time-format.js";

/** What is wrong with a cell: a code and the rule it breaks. */
export interface CellFault {
  readonly code: string;
  readonly rule: string;
  readonly hint?: string;
}

export type CellType = "number" | "integer" | "text" | "datetime" | "date" | "boolean";

/** The value of a filled cell: numbers and times as numbers, the rest as text. */
export type CellReader = (text: string) => number | string | CellFault;

const numberPattern = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A reader for cells of one type, as the field's schema writes them. */
export function cellReader(type: CellType, field: TableField): CellReader {
  if (type === "number") return (text) => readNumber(text, field);
  if (type === "integer") return (text) => readInteger(text, field);
  if (type === "datetime") return hasPattern(field) ? patternTime(field) : readTime;
  if (type === "date") return hasPattern(field) ? patternDate(field) : readDate;
  if (type === "boolean") return (text) => readBoolean(text, field);
  return (text) => text;
}

function readNumber(text: string, field: TableField): number | CellFault {
  const value = plainNumber(text, field);
  if (Number.isFinite(value)) return value;
  const fault = { code: "not-a-number", rule: "a number" };
  const hint = numberHint(text.trim());
  return hint === null ? fault : { ...fault, hint };
}

function readInteger(text: string, field: TableField): number | CellFault {
  const value = plainNumber(text, field);
  if (Number.isSafeInteger(value)) return value;
  return { code: "not-an-integer", rule: "a whole number" };
}

function plainNumber(text: string, field: TableField): number {
  let plain = text.trim();
  if (field.bareNumber === false) plain = plain.replace(/^[^\d+\-.,]+|[^\d.,]+$/g, "");
  if (field.groupChar !== undefined) plain = plain.replaceAll(field.groupChar, "");
  if (field.decimalChar !== undefined) plain = plain.replace(field.decimalChar, ".");
  return numberPattern.test(plain) ? Number(plain) : Number.NaN;
}

function readTime(text: string): number | CellFault {
  const time = isoTime(text.trim());
  if (time === "not-a-time") {
    const rule = "an ISO 8601 time, such as 2031-10-14T09:30:00+01:00";
    const hint = timeHint(text.trim());
    return { code: time, rule, ...(hint === null ? {} : { hint }) };
  }
  if (time !== "time-without-offset") return time;
  return { code: time, rule: "an ISO 8601 time with its offset", hint: "add Z or +01:00" };
}

function readDate(text: string): string | CellFault {
  const date = text.trim();
  return isIsoDate(date) ? date : { code: "not-a-date", rule: "a date, such as 2031-10-14" };
}

function hasPattern({ format }: TableField): boolean {
  return format?.includes("%") === true;
}

const UNKNOWN_FORMAT = Object.freeze({
  code: "field-format",
  rule: "a cell of a known format, with each of %Y %y %m %b %B %d %H %I %p %M %S %f %z once at most",
});

/** Times in a pattern of the field's own, with the offset or the zone that goes with it. */
function patternTime({ format = "", timezone }: TableField): CellReader {
  const read = patternReader(format);
  const zone = timezone === undefined ? null : zoneReader(timezone);
  if (read === null) return () => UNKNOWN_FORMAT;
  return (text) => {
    const found = read(text.trim());
    if (found === null) return { code: "not-a-time", rule: `a time in the format ${format}` };
    if (found.offset_s !== null) return found.local_s - found.offset_s;
    const time = zone?.(found.local_s);
    if (typeof time === "number") return time;
    return time === undefined ? zoneFault(timezone) : changedClocks(time);
  };
}

function zoneFault(timezone: string | undefined): CellFault {
  const hint = 'give the field "timezone", such as "+01:00" or "Europe/Amsterdam", or %z';
  const rule = timezone === undefined ? "a time with its offset" : "a time in a known time zone";
  return { code: "time-without-offset", rule, hint };
}

function changedClocks(time: Exclude<ZonedTime, number>): CellFault {
  const what = time === "skipped" ? "skip" : "show twice";
  const hint = "write times in UTC, or with their offset";
  return { code: "not-a-time", rule: `a local time that the clocks do not ${what}`, hint };
}

function patternDate({ format = "" }: TableField): CellReader {
  const read = patternReader(format);
  if (read === null) return () => UNKNOWN_FORMAT;
  return (text) => {
    const found = read(text.trim());
    if (found === null) return { code: "not-a-date", rule: `a date in the format ${format}` };
    return new Date(1000 * found.local_s).toISOString().slice(0, 10);
  };
}

function readBoolean(text: string, field: TableField): string | CellFault {
  const yes = field.trueValues ?? ["true", "True", "TRUE", "1"];
  const no = field.falseValues ?? ["false", "False", "FALSE", "0"];
  if (yes.includes(text)) return "true";
  if (no.includes(text)) return "false";
  return { code: "not-a-boolean", rule: `one of ${[...yes, ...no].join(", ")}` };
}
