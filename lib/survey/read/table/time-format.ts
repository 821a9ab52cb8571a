import { monthOf } from "../../month-names.js";
import { zoneOffset } from "../../time-zone.js";

/** A time as a pattern of Table Schema reads it. */
export interface PatternTime {
  /** Seconds since 1970, as if it were UTC. */
  readonly local_s: number;
  /** Seconds east of UTC; null where the pattern has none. */
  readonly offset_s: number | null;
}

/** Directives of the C standard's strptime, as far as times of a survey need them. */
const DIRECTIVES: Readonly<Record<string, string>> = {
  Y: String.raw`(?<Y>\d{4})`,
  y: String.raw`(?<y>\d{2})`,
  m: String.raw`(?<m>\d{1,2})`,
  b: String.raw`(?<b>\p{L}+\.?)`,
  B: String.raw`(?<b>\p{L}+)`,
  d: String.raw`(?<d>\d{1,2})`,
  H: String.raw`(?<H>\d{1,2})`,
  I: String.raw`(?<I>\d{1,2})`,
  M: String.raw`(?<M>\d{2})`,
  S: String.raw`(?<S>\d{2})`,
  f: String.raw`(?<f>\d{1,9})`,
  p: "(?<p>[AaPp][Mm])",
  z: String.raw`(?<z>Z|[+-]\d{2}:?\d{2})`,
  "%": "%",
};

/**
 * A reader of times in a pattern such as `%d/%m/%Y %H:%M:%S`; null for a pattern it does not know.
 */
export function patternReader(pattern: string): ((text: string) => PatternTime | null) | null {
  const parts = pattern.match(/%.|[^%]+|%$/gs) ?? [];
  const sources = parts.map((part) => {
    if (!part.startsWith("%")) return part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    return DIRECTIVES[part.slice(1)] ?? null;
  });
  const names = sources.flatMap((source) => /^\(\?<(\w)>/.exec(source ?? "")?.[1] ?? []);
  if (sources.includes(null) || new Set(names).size < names.length) return null;
  const expression = new RegExp(`^${sources.join("")}$`, "u");
  return (text) => {
    const groups = expression.exec(text)?.groups;
    return groups === undefined ? null : timeOf(groups);
  };
}

function timeOf(groups: Readonly<Record<string, string | undefined>>): PatternTime | null {
  const number = (name: string, otherwise = 0) => Number(groups[name] ?? otherwise);
  const year = groups.Y === undefined ? 2000 + number("y", Number.NaN) : number("Y");
  const month =
    groups.b === undefined ? number("m", Number.NaN) : (monthOf(groups.b) ?? Number.NaN);
  const date = new Date(Date.UTC(year, month - 1, number("d", Number.NaN)));
  const isDay = date.getUTCMonth() === month - 1 && date.getUTCDate() === number("d");
  const hour = groups.I === undefined ? number("H") : halfDay(number("I"), groups.p ?? "");
  if (!(isDay && hour < 24 && number("M") < 60 && number("S") < 60)) return null;
  const seconds = hour * 3600 + number("M") * 60 + number("S") + Number(`0.${groups.f ?? 0}`);
  const offset_s = groups.z === undefined ? null : zoneOffset(groups.z);
  return { local_s: date.getTime() / 1000 + seconds, offset_s };
}

/** NaN for an hour that a half day does not have. */
function halfDay(hour: number, half: string): number {
  if (!(hour >= 1 && hour <= 12) || half === "") return Number.NaN;
  return (hour % 12) + (/^p/i.test(half) ? 12 : 0);
}
