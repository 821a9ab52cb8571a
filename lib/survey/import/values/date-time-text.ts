import { type Clock, readClock } from "./clock-text.js";
import { dateParts } from "./date-text.js";

/** A cell that holds a date and a time of day. */
export interface DateTimeText {
  readonly date: readonly [string, string, string];
  readonly clock: Clock;
}

const COMPACT_BOTH = /^(\d{8})[T ]?(\d{2})(\d{2})(\d{2})?(Z)?$/;

/** Parts date and time of day in either order; null where one is missing. */
export function dateTimeText(cell: string): DateTimeText | null {
  const compact = COMPACT_BOTH.exec(cell);
  const text = compact
    ? `${compact[1]} ${compact[2]}:${compact[3]}:${compact[4] ?? "00"}${compact[5] ?? ""}`
    : cell;
  const match = /^(.*?\d.*?)(?:T|[,;]?\s+|\s?-\s)(\d{1,2}:\d{2}.*)$/.exec(text);
  if (match !== null) return both(match[1]!, match[2]!);
  const reversed = /^(\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?)[,;]?\s+(.*\d.*)$/.exec(text);
  return reversed === null ? null : both(reversed[2]!, reversed[1]!);
}

function both(dateText: string, clockText: string): DateTimeText | null {
  const date = dateParts(dateText.replace(WEEKDAY, "").trim());
  const clock = readClock(clockText);
  return date === null || clock === null ? null : { date, clock };
}

const WEEKDAY = /^\p{L}{2,10}\.?,?\s+(?=\d|\p{L}+\s+\d)/u;
