import { itemAt } from "../../../numerics/arrays.js";
import type { RowRun } from "../../../numerics/runs.js";
import { extent } from "../../../numerics/statistics/present.js";
import { quantile } from "../../../numerics/statistics/robust.js";
import type { Channel } from "../../instrument.js";
import { utcText } from "../../iso-time.js";
import type { CsvTable } from "../../read/table/csv-table.js";
import { standsForNone } from "../plausible-values.js";

/** Values in a channel's column that its coils did not read, by the look of them. */
export interface UnreadValues {
  readonly field: string;
  /** Indices of the table's rows. */
  readonly rows: readonly number[];
  /** What is odd about them, to go on after the channel's name. */
  readonly text: string;
  /** False where they may be readings all the same. */
  readonly isSure: boolean;
}

type Present = readonly (readonly [row: number, value: number])[];

interface Column {
  readonly channel: Channel;
  /** Values that are there, with their rows. */
  readonly present: Present;
}

/** From so many readings on their spread tells of the logger. */
const TELLING = 30;

/**
 * Finds what no coils read though it stands in their column: one value in all rows, one value over a
 * stretch, the end of the range, a mark for none.
 */
export function unreadValues(
  table: CsvTable,
  channels: readonly Channel[],
): readonly UnreadValues[] {
  const columns = channels
    .filter(
      ({ field }, c) => table.has(field) && channels.findIndex((o) => o.field === field) === c,
    )
    .map((channel) => ({ channel, present: presentIn(table.numbers(channel.field)) }))
    .filter(({ present }) => present.length >= TELLING);
  return columns.flatMap((column) => {
    const values = Float64Array.from(column.present, ([, value]) => value);
    if (new Set(values).size === 1) return [idle(column, columns)];
    const marks = marksForNone(column);
    const marked = new Set(marks.flatMap(({ rows }) => rows));
    const ends = atRangeEnds(column).filter(({ rows }) => !marked.has(itemAt(rows, 0)));
    const clipped = new Set(ends.flatMap(({ rows }) => rows));
    const still = stuck(table, column).filter(
      ({ rows: [first = -1] }) => !clipped.has(first) && !marked.has(first),
    );
    return [...still, ...ends, ...marks];
  });
}

function presentIn(values: Float64Array): Present {
  return [...values.entries()].filter(([, value]) => !Number.isNaN(value));
}

/**
 * Beside channels that move, one that never does was not recorded; all of them may stand over even
 * ground without noise, but not at zero.
 */
function idle({ channel, present }: Column, columns: readonly Column[]): UnreadValues {
  const [, value] = itemAt(present, 0);
  const isBesideOthers = columns.some((other) => {
    const repeats = repeatsIn(other.present);
    return other.channel !== channel && repeats <= USUAL_REPEATS * other.present.length;
  });
  const text = `has one value, ${value}, in all rows; was it recorded?`;
  const rows = present.map(([row]) => row);
  return { field: channel.field, rows, text, isSure: isBesideOthers || value === 0 };
}

function repeatsIn(present: Present): number {
  return present.filter(([, value], i) => i > 0 && value === itemAt(present, i - 1)[1]).length;
}

/** A run of one value this long stands out where neighbours usually differ. */
const STUCK_RUN = 30;
const USUAL_REPEATS = 0.2;

/** Stretches on which a channel that otherwise moves reads one value. */
function stuck(table: CsvTable, { channel, present }: Column): readonly UnreadValues[] {
  const runs = runsOfOneValue(present).filter(({ first, last }) => last - first + 1 >= STUCK_RUN);
  const inRuns = runs.reduce((sum, { first, last }) => sum + last - first + 1, 0);
  const rest = present.length - inRuns;
  const repeats = repeatsIn(present) - (inRuns - runs.length);
  if (rest < STUCK_RUN || repeats > USUAL_REPEATS * rest) return [];
  return runs.map((run) => {
    const within = present.slice(run.first, run.last + 1);
    const rows = within.map(([row]) => row);
    const text = stuckText(table, rows, itemAt(within, 0)[1]);
    return { field: channel.field, rows, text, isSure: true };
  });
}

function runsOfOneValue(present: Present): readonly RowRun[] {
  const runs: { first: number; last: number }[] = [];
  for (const [i, [, value]] of present.entries()) {
    const open = runs.at(-1);
    if (open !== undefined && itemAt(present, open.first)[1] === value) open.last = i;
    else runs.push({ first: i, last: i });
  }
  return runs;
}

function stuckText(table: CsvTable, rows: readonly number[], value: number): string {
  const [first, last] = [itemAt(rows, 0), itemAt(rows, rows.length - 1)];
  const span = `${rows.length} rows from row ${table.row[first]} to ${table.row[last]}`;
  const time = utcText(table.numbers("time")[first] ?? Number.NaN);
  const since = time === null ? "" : `, from ${time} on`;
  return `reads ${value} in ${span}${since}; did it stand still?`;
}

/** Ends of the range are met by so many readings, and so many times as often as other values. */
const CLIPPED_SHARE = 0.1;
const CLIPPED_TIMES = 3;
/** Coarser readings meet every value often. */
const FINE_VALUES = 10;

/** In-phase at its end still tells of metal, which is all that it may be needed for there. */
function atRangeEnds({ channel, present }: Column): readonly UnreadValues[] {
  const counts = countsOf(present);
  if (counts.size < FINE_VALUES) return [];
  return endsOf(present).flatMap(([end, word]) => {
    const rows = rowsWith(present, end);
    const others = [...counts].filter(([value]) => value !== end).map(([, other]) => other);
    const usual = others.reduce((sum, other) => Math.max(sum, other), 0);
    if (rows.length < Math.max(CLIPPED_SHARE * present.length, CLIPPED_TIMES * usual)) return [];
    const often = `in ${rows.length} of ${present.length} rows`;
    const text = `reads ${end}, its ${word} value, ${often}; was it at the end of its range?`;
    return [{ field: channel.field, rows, text, isSure: channel.kind !== "inphase" }];
  });
}

function countsOf(present: Present): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  for (const [, value] of present) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}

function endsOf(present: Present): readonly (readonly [number, "smallest" | "largest"])[] {
  const { least, most } = extent(present.map(([, value]) => value));
  return [
    [least, "smallest"],
    [most, "largest"],
  ];
}

const rowsWith = (present: Present, wanted: number) =>
  present.filter(([, value]) => value === wanted).map(([row]) => row);

/** A value that so many rows share, this many of the logger's steps from any other, is no reading. */
const MARKED_FROM = 5;
const MARKED_STEPS = 10;
/** On the side of the readings a mark is so many times what nearly all of them are. */
const OUT_OF_ALL = 5;

/**
 * A value that several rows share though none comes near it, on the other side of zero from the
 * readings or far beyond them: 0 or −999.9 where the logger had none. What loggers are known to write
 * is a fault.
 */
function marksForNone({ channel, present }: Column): readonly UnreadValues[] {
  const ends = endsOf(present).map(([end]) => end);
  return [...new Set([...ends, 0])].flatMap((end) => {
    const rows = rowsWith(present, end);
    const others = present.map(([, value]) => value).filter((value) => value !== end);
    if (rows.length < MARKED_FROM || others.length < TELLING || standsForNone(end)) return [];
    if (!isApart(end, others) || !isBeyond(end, others, channel)) return [];
    const often = `in ${rows.length} of ${present.length} rows`;
    const text = `reads ${end} ${often}, and nothing near it in any other; does it stand for none?`;
    return [{ field: channel.field, rows, text, isSure: true }];
  });
}

function isApart(end: number, others: readonly number[]): boolean {
  const sorted = [...new Set(others)].sort((a, b) => a - b);
  const steps = sorted.slice(1).map((value, i) => value - itemAt(sorted, i));
  const step = steps.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
  return others.every((value) => Math.abs(value - end) >= MARKED_STEPS * step * (1 - 1e-9));
}

function isBeyond(end: number, others: readonly number[], { kind }: Channel): boolean {
  const [low, high] = [quantile(others, 0.05), quantile(others, 0.95)];
  if ((low > 0 && end <= 0) || (high < 0 && end >= 0)) return true;
  const usual = quantile(others.map(Math.abs), 0.95);
  return kind !== "inphase" && Math.abs(end) >= OUT_OF_ALL * usual;
}
