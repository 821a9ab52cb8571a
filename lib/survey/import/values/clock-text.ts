import { zoneOffset } from "../../time-zone.js";

const CLOCK =
  /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*([ap])?(?:\.?m\.?)?\s*(Z|UTC|GMT|(?:UTC|GMT)?[+-]\d\d?(?::?\d\d)?)?$/i;
const PACKED = /^(\d{2})(\d{2})(\d{2})(?:[.,](\d+))?$/;

/** A time of day. */
export interface Clock {
  readonly seconds: number;
  /** Seconds east of UTC, where the text says so. */
  readonly offset_s: number | null;
}

/** Reads `8:43`, `08:43:40.5`, `8:43:40 PM`, `08:43:40+01:00`; null for what is no time of day. */
export function readClock(text: string): Clock | null {
  const match = CLOCK.exec(text);
  if (match === null) return null;
  const [, h = "", m = "", s = "0", fraction = "0", half, zone] = match;
  if (half === undefined && /m\.?$/i.test(text)) return null;
  const hour = half === undefined ? Number(h) : halfDay(Number(h), half);
  if (!(hour < 24 && Number(m) < 60 && Number(s) < 60)) return null;
  const seconds = hour * 3600 + Number(m) * 60 + Number(s) + Number(`0.${fraction}`);
  return { seconds, offset_s: zone === undefined ? null : zoneOffset(zone) };
}

/** Reads `084340` and `084340.50`. */
export function readPackedClock(text: string): number | null {
  const match = PACKED.exec(text.padStart(/[.,]/.test(text) ? 0 : 6, "0"));
  if (match === null) return null;
  const [, h, m, s, fraction = "0"] = match;
  if (!(Number(h) < 24 && Number(m) < 60 && Number(s) < 60)) return null;
  return Number(h) * 3600 + Number(m) * 60 + Number(s) + Number(`0.${fraction}`);
}

/** Noon is 12 pm and midnight 12 am. NaN for an hour that a half day does not have. */
function halfDay(hour: number, half: string): number {
  if (!(hour >= 1 && hour <= 12)) return Number.NaN;
  return (hour % 12) + (half.toLowerCase() === "p" ? 12 : 0);
}
