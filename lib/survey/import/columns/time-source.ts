import type { Enquiry } from "../enquiry.js";
import { readClock, readPackedClock } from "../values/clock-text.js";
import { dateParts } from "../values/date-text.js";
import { dateTimeText } from "../values/date-time-text.js";
import { plainNumber } from "../values/number-form.js";
import { type Column, meant } from "./column.js";

type Parts = readonly [string, string, string];

/** What a row's cells say of its time, before order of the date and zone are known. */
export type LocalTime =
  | {
      readonly parts: Parts | null;
      /** Since midnight, or since 1970 where that is absolute. */
      readonly seconds: number;
      readonly offset_s: number | null;
      readonly isAbsolute: boolean;
    }
  | "blank"
  | "unreadable";

export type LocalReader = (cells: readonly string[]) => LocalTime;

/** Where the time of a row stands. */
export interface TimeSource {
  readonly from: readonly string[];
  readonly how: string;
  readonly read: LocalReader;
  /** False where there are times of day alone. */
  readonly hasDate: boolean;
  /** Seconds since 1970 are UTC by their definition. */
  readonly isUtc: boolean;
  /** The dates of the sampled rows whose parts are yet to be told apart. */
  readonly dates: readonly Parts[];
  /** The sampled rows, each with the cells that are read. */
  readonly rows: readonly (readonly string[])[];
}

/** Which columns tell the time: one that holds all, a date and a time of day, or a number. */
export function timeSource(
  file: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): TimeSource | null {
  const times = meant(columns, "time");
  const whole = one(file, "time", times.filter(isWhole), enquiry);
  if (whole !== undefined) return finished([whole], columns, wholeReader(whole));
  const date = one(file, "date", meant(columns, "date"), enquiry);
  const clock = one(file, "time", times, enquiry);
  if (clock === undefined) {
    enquiry.fault(`${file}: must have a column of times, got none (name it: "column NAME = time")`);
    return null;
  }
  const used = date === undefined ? [clock] : [date, clock];
  const ofDay = secondsOfDay(file, clock, enquiry);
  return finished(used, columns, clockReader(clock, date, ofDay));
}

/** The column of several that is meant, which the user tells. */
function one(
  file: string,
  what: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): Column | undefined {
  const headers = columns.map(({ header }) => header);
  const utc = columns.find(({ all }) => /\b(utc|gps|gnss)\b/.test(all));
  const header = enquiryOf(headers, () =>
    enquiry.settle({
      file,
      name: `${what} column`,
      ask: `Which column holds the ${what} of the readings?`,
      guess: utc?.header ?? null,
      why: `there are several: ${headers.join(", ")}`,
      choices: headers,
    }),
  );
  return columns.find((column) => column.header === header) ?? columns[0];
}

function enquiryOf(headers: readonly string[], ask: () => string | null): string | null {
  return headers.length > 1 ? ask() : (headers[0] ?? null);
}

const isWhole = (column: Column) => column.shape === "datetime" || absoluteUnit(column) !== null;

interface Reading {
  readonly how: string;
  readonly read: LocalReader;
  readonly hasDate: boolean;
  readonly isUtc: boolean;
}

function finished(used: readonly Column[], columns: readonly Column[], how: Reading): TimeSource {
  const width = 1 + columns.reduce((most, { index }) => Math.max(most, index), 0);
  const count = used[0]?.cells.length ?? 0;
  const rows = Array.from({ length: count }, (_, i) => {
    const cells = new Array<string>(width).fill("");
    for (const { index, cells: own } of used) cells[index] = own[i] ?? "";
    return cells;
  });
  const dates = rows.flatMap((cells) => {
    const found = how.read(cells);
    return typeof found === "object" && found.parts !== null ? [found.parts] : [];
  });
  return { ...how, from: used.map(({ header }) => header), dates, rows };
}

const SPREADSHEET_EPOCH_DAYS = 25_569;

/** Seconds in the unit of an absolute number of time; null where the numbers are none. */
function absoluteUnit({ shape, cells, numbers }: Column) {
  if (shape !== "number") return null;
  const values = cells
    .filter((cell) => cell !== "")
    .map((cell) => Number(plainNumber(cell, numbers) ?? Number.NaN));
  const within = (least: number, most: number) =>
    values.length > 0 && values.every((value) => value >= least && value < most);
  if (within(6e8, 5e9)) return { how: "seconds since 1970", unit_s: 1, zero: 0, isUtc: true };
  if (within(6e11, 5e12)) {
    return { how: "milliseconds since 1970", unit_s: 0.001, zero: 0, isUtc: true };
  }
  if (!within(32_000, 80_000) || values.every(Number.isInteger)) return null;
  const how = "a spreadsheet's day number";
  return { how, unit_s: 86_400, zero: SPREADSHEET_EPOCH_DAYS, isUtc: false };
}

function wholeReader(column: Column): Reading {
  const { index, numbers } = column;
  const absolute = absoluteUnit(column);
  if (absolute === null)
    return { how: "date and time", read: textReader(index), hasDate: true, isUtc: false };
  const { how, unit_s, zero, isUtc } = absolute;
  const read: LocalReader = (cells) => {
    const cell = cells[index] ?? "";
    if (cell === "") return "blank";
    const value = plainNumber(cell, numbers);
    if (value === null) return "unreadable";
    const seconds = Math.round(1000 * (Number(value) - zero) * unit_s) / 1000;
    return { parts: null, seconds, offset_s: null, isAbsolute: true };
  };
  return { how, read, hasDate: true, isUtc };
}

function textReader(index: number): LocalReader {
  return (cells) => {
    const cell = cells[index] ?? "";
    if (cell === "") return "blank";
    const found = dateTimeText(cell);
    if (found === null) return "unreadable";
    return { parts: found.date, ...found.clock, isAbsolute: false };
  };
}

/** A time of day, with the date from a column beside it where there is one. */
function clockReader(
  clock: Column,
  date: Column | undefined,
  { how, seconds }: SecondsOfDay,
): Reading {
  const read: LocalReader = (cells) => {
    const text = cells[clock.index] ?? "";
    const dateText = date === undefined ? "" : (cells[date.index] ?? "");
    if (text === "" || (date !== undefined && dateText === "")) return "blank";
    const found = seconds(text);
    const parts = date === undefined ? null : (dateParts(dateText) ?? packedParts(dateText));
    if (found === null || (date !== undefined && parts === null)) return "unreadable";
    return { parts, ...found, isAbsolute: false };
  };
  return { how, read, hasDate: date !== undefined, isUtc: false };
}

/** `141031`, whose parts are yet to be told apart. */
function packedParts(text: string): Parts | null {
  const match = /^(\d\d)(\d\d)(\d\d)$/.exec(text.padStart(6, "0"));
  return match === null ? null : [match[1]!, match[2]!, match[3]!];
}

type SecondsReader = (text: string) => { seconds: number; offset_s: number | null } | null;

interface SecondsOfDay {
  readonly how: string;
  readonly seconds: SecondsReader;
}

function secondsOfDay(file: string, column: Column, enquiry: Enquiry): SecondsOfDay {
  const { shape, cells, numbers } = column;
  if (shape !== "number") return { how: "date, time of day", seconds: readClock };
  const values = cells.map((cell) => Number(plainNumber(cell, numbers) ?? Number.NaN));
  const known = values.filter((value) => !Number.isNaN(value));
  if (known.every((value) => value >= 0 && value <= 1)) {
    return { how: "fraction of a day", seconds: scaled(column, DAY_S) };
  }
  const form = packedOrCounted(file, column, known, enquiry);
  if (form === "hhmmss") return { how: form, seconds: packed };
  return { how: SECONDS, seconds: scaled(column, 1) };
}

const DAY_S = 86_400;
const SECONDS = "seconds of the day";

/** `084340` is a time of day; 30010 may be one, or so many seconds: that is asked. */
function packedOrCounted(
  file: string,
  { header, cells }: Column,
  values: readonly number[],
  enquiry: Enquiry,
): string | null {
  const isPacked = cells.every((cell) => cell === "" || readPackedClock(cell) !== null);
  const isCount =
    values.every((value) => value < DAY_S) && !cells.some((cell) => /^0\d/.test(cell));
  return enquiry.settle({
    file,
    name: `form of ${header}`,
    ask: `Is a cell of "${header}" such as ${cells.find((cell) => cell !== "")} hours, minutes and seconds, or seconds since midnight?`,
    guess: isPacked && isCount ? null : isPacked ? "hhmmss" : SECONDS,
    why: isPacked && isCount ? "its numbers may be either" : "its numbers can be nothing else",
    isSure: !(isPacked && isCount),
    choices: ["hhmmss", SECONDS],
  });
}

function scaled({ numbers }: Column, unit_s: number): SecondsReader {
  return (text) => {
    const value = plainNumber(text, numbers);
    const seconds = Math.round(1000 * Number(value) * unit_s) / 1000;
    return value === null || !(seconds >= 0 && seconds <= DAY_S)
      ? null
      : { seconds, offset_s: null };
  };
}

const packed: SecondsReader = (text) => {
  const seconds = readPackedClock(text);
  return seconds === null ? null : { seconds, offset_s: null };
};
