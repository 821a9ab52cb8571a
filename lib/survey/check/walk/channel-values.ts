import { itemAt } from "../../../numerics/arrays.js";
import { extent } from "../../../numerics/statistics/present.js";
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
    noteFewValues(column, log);
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

const FEW_VALUES = 4;

function noteFewValues({ file, field, present }: Column, log: FaultLog): void {
  const { size } = new Set(present.map(([, value]) => value));
  if (size < 2 || size > FEW_VALUES) return;
  const values = `${size} different values in ${present.length} rows`;
  log.caution(`${file}: channel ${field} has ${values}; was it rounded?`);
}
