import { monthOf } from "../../month-names.js";

/** Which part of a date stands first, second, third. */
export type DateOrder = "year/month/day" | "day/month/year" | "month/day/year";

export const DATE_ORDERS: readonly DateOrder[] = [
  "year/month/day",
  "day/month/year",
  "month/day/year",
];

type Parts = readonly [string, string, string];

const SIGNED = /^(\d{1,4})([-./])(\d{1,2})\2(\d{1,4})\.?$/;
const NAMED = /^(\d{1,4})[-./ ]{0,2}([\p{L}.]{3,11}?)[-./, ]{0,2}(\d{1,4})$/u;
const NAME_FIRST = /^([\p{L}.]{3,11}?)[-./ ]{0,2}(\d{1,2})[-./, ]{1,2}(\d{2,4})$/u;
const COMPACT = /^((?:19|20)\d\d)(\d\d)(\d\d)$/;

/** The three parts of a date as they stand; null for what is no date. */
export function dateParts(text: string): Parts | null {
  const signed = SIGNED.exec(text);
  if (signed !== null) return [signed[1]!, signed[3]!, signed[4]!];
  const match = NAMED.exec(text) ?? NAME_FIRST.exec(text) ?? COMPACT.exec(text);
  if (match === null) return null;
  const parts = [match[1]!, match[2]!, match[3]!] as const;
  const words = parts.filter((part) => !/^\d+$/.test(part));
  return words.every((word) => monthOf(word) !== null) ? parts : null;
}

const POSITIONS: Readonly<Record<DateOrder, readonly [number, number, number]>> = {
  "year/month/day": [0, 1, 2],
  "day/month/year": [2, 1, 0],
  "month/day/year": [2, 0, 1],
};

/** Days since 1970 of a date in an order; NaN where it is no day of the calendar so read. */
export function dayNumber(parts: Parts, order: DateOrder): number {
  const [y, m, d] = POSITIONS[order].map((at) => parts[at]!) as [string, string, string];
  const month = monthOf(m) ?? numeric(m);
  const year = yearOf(y);
  const day = d.length <= 2 ? numeric(d) : Number.NaN;
  const date = new Date(Date.UTC(year, month - 1, day));
  const isDay = date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return isDay ? date.getTime() / 86_400_000 : Number.NaN;
}

const numeric = (digits: string) => (/^\d+$/.test(digits) ? Number(digits) : Number.NaN);

/** Of two digits, of this century; instruments of the one before wrote no such files. */
function yearOf(digits: string): number {
  if (digits.length === 2) return 2000 + numeric(digits);
  return digits.length === 4 ? numeric(digits) : Number.NaN;
}

/** The orders in which every date is a day of the calendar. */
export function possibleOrders(dates: readonly Parts[]): readonly DateOrder[] {
  return DATE_ORDERS.filter((order) =>
    dates.every((parts) => !Number.isNaN(dayNumber(parts, order))),
  );
}
