import type { ChannelSpec } from "../earth/forward.js";
import type { MadeCampaign, MadeWalk } from "../field/walked-campaign.js";
import type { MadeSurvey } from "../survey.js";
import { degreesOf, placeOf } from "./geometry.js";

/** Files as an invented logger writes them, by name. */
export type RawFiles = ReadonlyMap<string, Buffer>;

/** One row of a walk or of base checks: what a logger knows of it. */
interface Logged {
  readonly time_s: number;
  readonly easting_m: number;
  readonly northing_m: number;
  readonly longitude: number;
  readonly latitude: number;
  readonly values: readonly number[];
}

interface Log {
  readonly name: string;
  readonly channels: readonly ChannelSpec[];
  readonly rows: readonly Logged[];
}

function walkLog(walk: MadeWalk): Log {
  const rows = walk.steps.time_s.map((time_s, i) => {
    const place = placeOf(walk.recorded.chainage_m[i]!, walk.recorded.offset_m[i]!);
    const [longitude, latitude] = Number.isNaN(place.easting_m)
      ? [Number.NaN, Number.NaN]
      : degreesOf(place);
    return {
      time_s,
      ...place,
      longitude,
      latitude,
      values: walk.values.map((column) => column[i]!),
    };
  });
  return { name: walk.name, channels: walk.channels, rows };
}

/** Read at one spot beside the bank. */
function checksLog({ checks }: MadeCampaign, { channels }: MadeWalk): Log {
  const place = placeOf(20, -25);
  const [longitude, latitude] = degreesOf(place);
  const rows = checks
    .filter(({ values }) => channels.every(({ field }) => field in values))
    .map(({ time_s, values }) => {
      return {
        time_s,
        ...place,
        longitude,
        latitude,
        values: channels.map(({ field }) => values[field]!),
      };
    });
  return { name: "base", channels, rows };
}

const two = (value: number) => String(value).padStart(2, "0");
const dateOf = (time_s: number) => new Date(1000 * time_s);
const clock = (at: Date) =>
  [at.getUTCHours(), at.getUTCMinutes(), at.getUTCSeconds()].map(two).join(":");

/** The bank's ends and middle. */
function vertices(length_m: number): readonly Logged[] {
  return [0, length_m / 2, length_m].map((x) => {
    const place = placeOf(x);
    const [longitude, latitude] = degreesOf(place);
    return { time_s: 0, ...place, longitude, latitude, values: [] };
  });
}

function geojson(length_m: number): Buffer {
  const coordinates = vertices(length_m).map(({ longitude, latitude }) => [longitude, latitude]);
  return Buffer.from(JSON.stringify({ type: "LineString", coordinates }));
}

type Style = (log: Log) => Buffer;

const comma = (value: number, digits: number) =>
  Number.isNaN(value) ? "" : value.toFixed(digits).replace(".", ",");
const point = (value: number, digits: number, none = "") =>
  Number.isNaN(value) ? none : value.toFixed(digits);

/** Semicolons, decimal commas, day first, a clock two hours or one ahead of UTC, trailing separators. */
const semicolons: Style = ({ channels, rows, name }) => {
  const kind = { quadrature: "Quad", inphase: "Inphase", conductivity: "Cond" };
  const header = channels.map(
    (c) =>
      `${kind[c.kind]} ${c.orientation} ${comma(c.separation_m, 1)}m ${c.frequency_Hz / 1000}kHz [${c.unit}]`,
  );
  const lines = rows.map(({ time_s, longitude, latitude, values }) => {
    const at = dateOf(time_s + offsetInAmsterdam(time_s));
    const date = `${two(at.getUTCDate())}.${two(at.getUTCMonth() + 1)}.${at.getUTCFullYear()} ${clock(at)}`;
    return [
      date,
      comma(longitude, 8),
      comma(latitude, 8),
      ...values.map((v) => comma(v, 2)),
      "12,4",
    ];
  });
  const table = [["Datum/Uhrzeit", "Länge", "Breite", ...header, "Batterie"], ...lines];
  const text = [`Protokoll;${name}`, "", ...table.map((row) => `${row.join(";")};`)].join("\r\n");
  return Buffer.from(`\ufeff${text}\r\n`, "utf8");
};

/** Summer time ends on the last Sunday of October, at 1 h UTC, and begins on that of March. */
function offsetInAmsterdam(time_s: number): number {
  const year = dateOf(time_s).getUTCFullYear();
  const lastSunday = (month: number) => {
    const end = new Date(Date.UTC(year, month + 1, 0));
    return Date.UTC(year, month, end.getUTCDate() - end.getUTCDay(), 1) / 1000;
  };
  return time_s >= lastSunday(2) && time_s < lastSunday(9) ? 7200 : 3600;
}

/** Commas; month first in one column and a clock of twice twelve hours in another; metres of a grid. */
const twoColumns: Style = ({ channels, rows }) => {
  const header = channels.map((c) => {
    const unit = c.kind === "inphase" ? "ppt" : c.unit;
    return `${c.kind === "inphase" ? "IP" : "Q"}_${c.frequency_Hz}Hz_${c.orientation}_${c.separation_m}m (${unit})`;
  });
  const lines = rows.map(({ time_s, easting_m, northing_m, values }, i) => {
    const at = dateOf(time_s);
    const hour = at.getUTCHours();
    const twelve = `${((hour + 11) % 12) + 1}:${clock(at).slice(3)} ${hour < 12 ? "AM" : "PM"}`;
    const date = `${at.getUTCMonth() + 1}/${at.getUTCDate()}/${at.getUTCFullYear()}`;
    const read = values.map((v, c) =>
      channels[c]!.kind === "inphase" ? point(v / 1000, 5) : point(v, 1),
    );
    return [i + 1, date, twelve, point(easting_m, 2), point(northing_m, 2), ...read].join(",");
  });
  const first = ["Record", "Date", "Time (UTC)", "Easting", "Northing", ...header].join(",");
  return Buffer.from(`${[first, ...lines].join("\n")}\n`);
};

/** Tabs, Latin-1, remarks, degrees and minutes; neither spacing nor coils are told. */
const tabs: Style = ({ channels, rows }) => {
  const header = channels.map(
    (c) =>
      `${c.kind === "inphase" ? "En phase" : "Quadrature"} ${comma(c.frequency_Hz / 1000, 1)} kHz (ppm)`,
  );
  const minutes = (degrees: number, letter: string) => {
    if (Number.isNaN(degrees)) return "";
    const whole = Math.floor(degrees);
    return `${whole}°${comma(60 * (degrees - whole), 6)}'${letter}`;
  };
  const lines = rows.map(({ time_s, longitude, latitude, values }) => {
    const at = dateOf(time_s);
    const month = [
      "janv.",
      "févr.",
      "mars",
      "avr.",
      "mai",
      "juin",
      "juil.",
      "août",
      "sept.",
      "oct.",
    ];
    const date = `${at.getUTCDate()} ${month[at.getUTCMonth()]} ${at.getUTCFullYear()}`;
    return [
      date,
      clock(at),
      minutes(latitude, "N"),
      minutes(longitude, "E"),
      ...values.map((v) => comma(v, 1)),
    ];
  });
  const table = [["Jour", "Heure", "Latitude", "Longitude", ...header], ...lines];
  const text = ["# Relevé", "# opérateur: É.", ...table.map((row) => row.join("\t"))].join("\n");
  return Buffer.from(`${text}\n`, "latin1");
};

/** Columns between blanks, as wide as they have to be, units in the header; ISO without an offset. */
const blanks: Style = ({ channels, rows }) => {
  const header = channels.map((c) => {
    const letter = c.kind === "inphase" ? "I" : "Q";
    const frequency = `${c.frequency_Hz / 1000}k`;
    return `${letter}.${frequency}.${c.orientation}.${Math.round(100 * c.separation_m)}cm [${c.unit}]`;
  });
  const lines = rows.map(({ time_s, longitude, latitude, values }) => {
    const iso = dateOf(time_s).toISOString();
    const place = [point(longitude, 8, "nan"), point(latitude, 8, "nan")];
    return [iso.slice(0, 10), iso.slice(11, 21), ...place, ...values.map((v) => point(v, 1, "nan"))]
      .map((cell) => cell.padStart(14))
      .join(" ");
  });
  const first = ["Day", "UTC", "Lon [deg]", "Lat [deg]", ...header].join("  ");
  return Buffer.from(`${[first, ...lines].join("\n")}\n`);
};

const STYLES = {
  "semicolons and decimal commas": semicolons,
  "two date columns": twoColumns,
  "tabs and Latin-1": tabs,
  "blanks and units in the header": blanks,
} as const;

export type LoggerStyle = keyof typeof STYLES;

export const LOGGER_STYLES = Object.freeze(Object.keys(STYLES)) as readonly LoggerStyle[];

/** The files that a logger of a style leaves of one campaign: a walk each, and the base checks. */
export function rawFiles(campaign: MadeCampaign, style: LoggerStyle): RawFiles {
  const write = STYLES[style];
  const files = new Map(
    campaign.walks.map((walk) => [`${walk.name}-${campaign.label}.txt`, write(walkLog(walk))]),
  );
  const checks = checksLog(campaign, campaign.walks[0]!);
  if (checks.rows.length > 0) files.set(`base-${campaign.label}.txt`, write(checks));
  return files;
}

/** The centreline as GeoJSON, and as a table of vertices. */
export function rawCentreline({ length_m }: MadeSurvey, form: "geojson" | "table"): RawFiles {
  if (form === "geojson") return new Map([["crest.geojson", geojson(length_m)]]);
  const rows = vertices(length_m).map(
    ({ easting_m, northing_m }, i) => `${i},${easting_m.toFixed(2)},${northing_m.toFixed(2)}`,
  );
  return new Map([["crest.csv", Buffer.from(`No,Easting,Northing\n${rows.join("\n")}\n`)]]);
}
