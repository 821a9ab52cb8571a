import { itemAt } from "../../../numerics/arrays.js";
import { extent } from "../../../numerics/statistics/present.js";
import { utcText } from "../../iso-time.js";
import type { CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";

/** Fewer rows than this may be alike by chance. */
const FEWEST = 10;
/** From so many readings on their spread tells of the logger. */
const TELLING = 30;

interface Column {
  readonly file: string;
  readonly field: string;
  readonly values: Float64Array;
  /** Those that are there, with their rows. */
  readonly present: readonly (readonly [row: number, value: number])[];
}

/** Logs channels whose values are no readings of the ground, and notes those that may be none. */
export function checkChannelValues(
  table: CsvTable,
  fields: readonly string[],
  log: FaultLog,
): void {
  for (const field of new Set(fields)) {
    if (!table.has(field)) continue;
    const values = table.numbers(field);
    const present = [...values.entries()].filter(([, value]) => !Number.isNaN(value));
    const column = { file: table.file, field, values, present };
    if (present.length < FEWEST) continue;
    if (isCopied(table, column, fields, log) || isCounting(column, log)) continue;
    if (present.length < TELLING) continue;
    const counts = countsOf(present);
    noteFewValues(column, counts, log);
    noteClipped(column, counts, log);
    noteStuck(table, column, log);
  }
}

const OTHERS = ["longitude", "latitude", "easting", "northing", "height_m"];

/** Two columns cannot be the same in every row: coils differ, and so do what they read. */
function isCopied(
  table: CsvTable,
  { file, field, values, present }: Column,
  fields: readonly string[],
  log: FaultLog,
): boolean {
  const { least, most } = extent(values);
  if (least === most) return false;
  const before = fields.slice(0, fields.indexOf(field));
  const twin = [...before, ...OTHERS].find((other) => {
    if (!table.has(other)) return false;
    const its = table.numbers(other);
    return present.every(([row, value]) => its[row] === value);
  });
  if (twin === undefined) return false;
  const rule = `what its own coils read, not the column ${twin}`;
  const value = `the values of ${twin} in all ${present.length} rows`;
  log.add({ code: "copied-column", file, field, rule, value });
  return true;
}

/** Ground does not rise by the same step from reading to reading. */
function isCounting({ file, field, present }: Column, log: FaultLog): boolean {
  const step = itemAt(present, 1)[1] - itemAt(present, 0)[1];
  const size = Math.abs(step) * 1e-6;
  const isSteady =
    step !== 0 &&
    present.every(([, value], i) => {
      const before = present[i - 1];
      return before === undefined || Math.abs(value - before[1] - step) <= size;
    });
  if (!isSteady) return false;
  const value = `values that rise by ${Number(step.toPrecision(6))} from row to row`;
  const hint = "is it a counter, or a column that was filled in?";
  log.add({ code: "counting-column", file, field, rule: "readings", value, hint });
  return true;
}

type Counts = ReadonlyMap<number, number>;

function countsOf(present: Column["present"]): Counts {
  const counts = new Map<number, number>();
  for (const [, value] of present) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}

const FEW_VALUES = 4;

function noteFewValues({ file, field, present }: Column, counts: Counts, log: FaultLog): void {
  if (counts.size < 2 || counts.size > FEW_VALUES) return;
  const values = `${counts.size} different values in ${present.length} rows`;
  log.caution(`${file}: channel ${field} has ${values}; was it rounded?`);
}

/** Ends of the range are met by so many readings, and so many times as often as other values. */
const CLIPPED_SHARE = 0.1;
const CLIPPED_TIMES = 3;
/** Coarser readings meet every value often. */
const FINE_VALUES = 10;

function noteClipped(
  { file, field, present, values }: Column,
  counts: Counts,
  log: FaultLog,
): void {
  if (counts.size < FINE_VALUES) return;
  const { least, most } = extent(values);
  for (const [end, word] of [
    [least, "smallest"],
    [most, "largest"],
  ] as const) {
    const count = counts.get(end) ?? 0;
    const others = [...counts].filter(([value]) => value !== end).map(([, other]) => other);
    const usual = others.reduce((sum, other) => Math.max(sum, other), 0);
    if (count < CLIPPED_SHARE * present.length || count < CLIPPED_TIMES * usual) continue;
    const rows = `in ${count} of ${present.length} rows`;
    log.caution(
      `${file}: channel ${field} reads ${end}, its ${word} value, ${rows}; was it at the end of its range?`,
    );
  }
}

/** A run of one value this long stands out where neighbours usually differ. */
const STUCK_RUN = 30;
const USUAL_REPEATS = 0.2;

/** Notes a stretch on which a channel that otherwise moves reads one value. */
function noteStuck(table: CsvTable, { file, field, present }: Column, log: FaultLog): void {
  let [start, longest, from, repeats] = [0, 0, 0, 0];
  for (let i = 1; i < present.length; i++) {
    if (itemAt(present, i)[1] !== itemAt(present, start)[1]) start = i;
    else repeats += 1;
    if (i - start + 1 > longest) [longest, from] = [i - start + 1, start];
  }
  const rest = present.length - longest;
  if (longest < STUCK_RUN || rest < STUCK_RUN) return;
  if (repeats - (longest - 1) > USUAL_REPEATS * rest) return;
  const [first, value] = itemAt(present, from);
  const [last] = itemAt(present, from + longest - 1);
  const rows = `${longest} rows from row ${table.row[first]} to ${table.row[last]}`;
  const time = utcText(table.numbers("time")[first] ?? Number.NaN);
  const since = time === null ? "" : `, from ${time} on`;
  log.caution(`${file}: channel ${field} reads ${value} in ${rows}${since}; did it stand still?`);
}
