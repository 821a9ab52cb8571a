import { numberHint, timeHint } from "../../check/cell-hints.js";
import { isIsoDate, isoTime } from "../../iso-time.js";
import type { TableField } from "../package/descriptor.js";

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
  if (type === "datetime") return readTime;
  if (type === "date") return readDate;
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

function readBoolean(text: string, field: TableField): string | CellFault {
  const yes = field.trueValues ?? ["true", "True", "TRUE", "1"];
  const no = field.falseValues ?? ["false", "False", "FALSE", "0"];
  if (yes.includes(text)) return "true";
  if (no.includes(text)) return "false";
  return { code: "not-a-boolean", rule: `one of ${[...yes, ...no].join(", ")}` };
}
