/** Seconds since 1970, or why a local time is none: the clock skipped it, or showed it twice. */
export type ZonedTime =
  | number
  | "skipped"
  | { readonly earlier_s: number; readonly later_s: number };

/** Turns local times of one zone into seconds since 1970. */
export type ZoneReader = (local_s: number) => ZonedTime;

const FIXED = /^(UTC|GMT|Z)?([+-]\d\d?(:?\d\d)?)?$/i;

/**
 * The reader of `UTC`, of a fixed offset such as `+01:00`, or of an IANA zone; null for neither.
 */
export function zoneReader(zone: string): ZoneReader | null {
  if (zone === "") return null;
  if (FIXED.test(zone)) {
    const offset_s = zoneOffset(zone);
    return (local_s) => local_s - offset_s;
  }
  const offsetAt = offsets(zone);
  return offsetAt === null ? null : (local_s) => localTime(local_s, offsetAt);
}

/** Seconds east of UTC of `Z`, `UTC`, `+01:00`, `UTC+1`. */
export function zoneOffset(zone: string): number {
  const match = /([+-])(\d\d?):?(\d\d)?$/.exec(zone);
  if (match === null) return 0;
  const size = Number(match[2]) * 3600 + Number(match[3] ?? 0) * 60;
  return match[1] === "-" ? -size : size;
}

const DAY_S = 86_400;

/** The offsets a day before and a day after are all that a local time can have. */
function localTime(local_s: number, offsetAt: (time_s: number) => number): ZonedTime {
  const near = [offsetAt(local_s - DAY_S), offsetAt(local_s + DAY_S)];
  const times = [...new Set(near)]
    .map((offset_s) => local_s - offset_s)
    .filter((time_s) => offsetAt(time_s) === local_s - time_s)
    .sort((one, other) => one - other);
  const [earlier_s, later_s] = times;
  if (earlier_s === undefined) return "skipped";
  return later_s === undefined ? earlier_s : { earlier_s, later_s };
}

/** Clocks are changed at full quarters of an hour. */
const QUARTER_S = 900;

function offsets(zone: string): ((time_s: number) => number) | null {
  let format: Intl.DateTimeFormat;
  try {
    format = new Intl.DateTimeFormat("en-US-u-hc-h23", {
      timeZone: zone,
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    });
  } catch {
    return null;
  }
  const known = new Map<number, number>();
  return (time_s) => {
    const quarter = Math.floor(time_s / QUARTER_S);
    const found = known.get(quarter) ?? offsetOf(format, quarter * QUARTER_S);
    known.set(quarter, found);
    return found;
  };
}

function offsetOf(format: Intl.DateTimeFormat, time_s: number): number {
  const parts = new Map(
    format.formatToParts(1000 * time_s).map(({ type, value }) => [type, Number(value)]),
  );
  const part = (type: string) => parts.get(type as Intl.DateTimeFormatPartTypes) ?? Number.NaN;
  const local = [part("year"), part("month") - 1, part("day"), part("hour")] as const;
  return Date.UTC(...local, part("minute"), part("second")) / 1000 - time_s;
}
