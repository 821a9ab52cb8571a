/** Seconds since 1970 of an ISO 8601 time, or why the text is none. */
export type IsoTime = number | "not-a-time" | "time-without-offset";

const pattern =
  /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d+))?)?(Z|[+-]\d\d(?::?\d\d)?)?$/i;

/** Reads `2031-10-14T09:30:00+01:00`; seconds may be left out or have decimals. */
export function isoTime(text: string): IsoTime {
  const match = pattern.exec(text);
  if (match === null) return "not-a-time";
  const [, year, month, day, hour, minute, second = "0", fraction = "0", offset] = match;
  if (!isCalendarDay(Number(year), Number(month), Number(day))) return "not-a-time";
  if (!(Number(hour) < 24 && Number(minute) < 60 && Number(second) < 60)) return "not-a-time";
  if (offset === undefined) return "time-without-offset";
  const parts = [
    Number(year),
    Number(month) - 1,
    Number(day),
    Number(hour),
    Number(minute),
  ] as const;
  return Date.UTC(...parts, Number(second)) / 1000 + Number(`0.${fraction}`) - offset_s(offset);
}

/** True for a day of the calendar written as `2031-10-14`. */
export function isIsoDate(text: string): boolean {
  const match = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text);
  return match !== null && isCalendarDay(Number(match[1]), Number(match[2]), Number(match[3]));
}

/** `2031-10-14T08:30:00Z`; null for NaN. */
export function utcText(time_s: number): string | null {
  if (!Number.isFinite(time_s)) return null;
  return `${new Date(Math.floor(time_s) * 1000).toISOString().slice(0, 19)}Z`;
}

function isCalendarDay(year: number, month: number, day: number): boolean {
  const date = new Date(Date.UTC(year, month - 1, day));
  return year > 99 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

function offset_s(offset: string): number {
  if (/^z$/i.test(offset)) return 0;
  const digits = offset.slice(1).replace(":", "").padEnd(4, "0");
  const size = Number(digits.slice(0, 2)) * 3600 + Number(digits.slice(2)) * 60;
  return offset.startsWith("-") ? -size : size;
}
