import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../instrument.js";
import type { LinePlacement } from "../read/package/descriptor.js";
import { ROLE_FIELDS } from "../read/package/roles.js";
import { settleChannels } from "./channels/settle-channels.js";
import { type Column, meant } from "./columns/column.js";
import { openColumns, settleColumns } from "./columns/settle-columns.js";
import { settleMarks } from "./columns/settle-marks.js";
import { settleNumbers } from "./columns/settle-numbers.js";
import { type PositionPlan, settlePosition } from "./columns/settle-position.js";
import { settleTime, type TimePlan } from "./columns/settle-time.js";
import { type Enquiry, numberRule } from "./enquiry.js";
import type { FieldPlan } from "./fields.js";
import { plainFields } from "./plain-fields.js";
import { measuredFields, positionFields } from "./reading-fields.js";
import { settleLines } from "./settle-lines.js";
import {
  type ImportRole,
  namedRole,
  roleColumn,
  settleMeasuredRole,
  type TableRole,
} from "./settle-role.js";
import type { TableSource } from "./table-source.js";
import { plainNumber } from "./values/number-form.js";

/** How one table of a raw file becomes one of the survey. */
export interface TablePlan {
  readonly source: TableSource;
  readonly role: TableRole | "centreline";
  readonly fields: readonly FieldPlan[];
  readonly position: PositionPlan | null;
  /** Of readings. */
  readonly instrument: { readonly height_m: number; readonly channels: readonly Channel[] } | null;
  /** Columns that are left in the raw file. */
  readonly leftOut: readonly string[];
  /** Each time that goes back begins another walk. */
  readonly isSplit: boolean;
  /** Null where it follows from the first time. */
  readonly campaign: string | null;
  readonly lines: readonly LinePlacement[];
}

/**
 * The plan of a table, as far as it is known; null for one that is left out, or while it is not.
 */
export function settleTable(source: TableSource, enquiry: Enquiry): TablePlan | null {
  const file = source.file.name;
  const named = namedRole(source.layout);
  if (named !== null) {
    const role = enquiry.settle({
      file,
      name: "role",
      ask: "What does the file hold?",
      guess: named,
      why: "its columns are those of the role, by name",
      isSure: true,
    }) as ImportRole;
    return role === "leave out" ? null : plainTable(source, role as TableRole, enquiry);
  }
  const columns = settleColumns(file, source, enquiry);
  const role = settleMeasuredRole(file, columns, enquiry);
  if (role === null || role === "leave out") return null;
  if (role === "readings" || role === "base-checks") {
    return measuredTable(source, { role, columns }, enquiry);
  }
  return role === "centreline"
    ? verticesTable(source, columns, enquiry)
    : plainTable(source, role, enquiry);
}

function plainTable(source: TableSource, role: TableRole, enquiry: Enquiry): TablePlan | null {
  const { layout, rows, file } = source;
  const needed = ROLE_FIELDS[role].filter((field) => field.needed && field.type !== "datetime");
  const missing = needed.filter(({ name }) => roleColumn(layout, name) < 0);
  if (missing.length > 0) {
    const names = missing.map(({ name }) => name).join(", ");
    enquiry.fault(`${file.name}: must have the columns of ${role}, got none named ${names}`);
    return null;
  }
  const open = openColumns(layout, rows);
  const formOf = settleNumbers(file.name, open, enquiry);
  const isTime = roleColumn(layout, "time");
  const columns = open.map((column, c): Column => {
    const isDate = column.shape === "date" && ROLE_FIELDS[role].some(({ name }) => name === "time");
    const meaning = isDate ? "date" : c === isTime ? "time" : "leave out";
    return { ...column, numbers: formOf(column), meaning };
  });
  const time = isTime < 0 ? null : settleTime(file.name, columns, enquiry);
  const fields = plainFields(role, { layout, columns, time });
  const lines = role === "resistivity-electrodes" ? settleLines(source, enquiry) : [];
  return { ...planBase(source, fields, columns), role, lines };
}

function planBase(source: TableSource, fields: readonly FieldPlan[], columns: readonly Column[]) {
  const used = new Set(fields.flatMap(({ from }) => from));
  const leftOut = columns
    .filter(({ header, shape }) => shape !== "blank" && !used.has(header))
    .map(({ header }) => header);
  const rest = { position: null, instrument: null, isSplit: false, campaign: null, lines: [] };
  return { source, fields, leftOut, ...rest };
}

function verticesTable(
  source: TableSource,
  columns: readonly Column[],
  enquiry: Enquiry,
): TablePlan | null {
  const position = settlePosition(source.file.name, columns, enquiry);
  if (position !== null) {
    const base = planBase(source, positionFields(position), columns);
    return { ...base, role: "centreline", position };
  }
  enquiry.fault(`${source.file.name}: must have columns of positions to be a centreline, got none`);
  return null;
}

interface Measured {
  readonly role: "readings" | "base-checks";
  readonly columns: readonly Column[];
}

function measuredTable(
  source: TableSource,
  { role, columns }: Measured,
  enquiry: Enquiry,
): TablePlan | null {
  const file = source.file.name;
  const own = meant(columns, "channel");
  if (own.length === 0) {
    enquiry.fault(
      `${file}: must have a channel to hold ${role}, got none (name it: "column NAME = channel")`,
    );
    return null;
  }
  const time = settleTime(file, columns, enquiry);
  const position = role === "readings" ? settlePosition(file, columns, enquiry) : null;
  const channels = settleChannels(file, own, enquiry);
  const marks = settleMarks(file, own, enquiry);
  if (role === "readings" && position === null) {
    enquiry.fault(
      `${file}: must have positions to hold readings, got no pair of columns (name them: "column NAME = longitude")`,
    );
  }
  const height_m = role === "readings" ? settleHeight(columns, file, enquiry) : 0;
  const label = labelOf(role, file, enquiry);
  if (time === null) return null;
  const isSplit = role === "readings" && settleWalks(source, time, enquiry);
  const fields = measuredFields({ role, columns, time, position, channels, marks, label });
  const instrument = { height_m, channels: channels.map(({ channel }) => channel) };
  const campaign = enquiry.has("campaign", file) ? settleCampaign(file, enquiry) : null;
  const base = planBase(source, fields, columns);
  return { ...base, role, position, instrument, isSplit, campaign, lines: [] };
}

function labelOf(role: Measured["role"], file: string, enquiry: Enquiry): string {
  const name = role === "readings" ? "line" : "spot";
  const usual = role === "readings" ? "" : "base";
  if (!enquiry.has(name, file)) return usual;
  return enquiry.settle({ file, name, isShared: true, ask: "", guess: usual, why: "" }) ?? usual;
}

function settleCampaign(file: string, enquiry: Enquiry): string | null {
  return enquiry.settle({ file, name: "campaign", isShared: true, ask: "", guess: null, why: "" });
}

function settleHeight(columns: readonly Column[], file: string, enquiry: Enquiry): number {
  const [column] = meant(columns, "height_m");
  const values = column?.cells.map((cell) =>
    Number(plainNumber(cell, column.numbers) ?? Number.NaN),
  );
  const usual = median((values ?? []).filter((value) => !Number.isNaN(value)));
  const answer = enquiry.settle({
    file,
    name: "height_m",
    isShared: true,
    ask: "How high above the ground were the coils carried, m?",
    guess: Number.isNaN(usual) ? null : String(usual),
    why: column === undefined ? "the file does not say" : `the middle of "${column.header}"`,
    broken: (text) => number(text) ?? (Number(text) >= 0 ? null : "a number of at least 0"),
  });
  return answer === null ? Number.NaN : Number(answer);
}

const number = numberRule(null);

/** Clocks are read to the second: less is no step back. */
const BACK_S = 1;

function settleWalks(source: TableSource, time: TimePlan, enquiry: Enquiry): boolean {
  let [before, back] = [Number.NEGATIVE_INFINITY, 0];
  for (const cells of source.rows) {
    const now = time.read(cells);
    if (typeof now !== "number") continue;
    if (now < before - BACK_S) back += 1;
    before = now;
  }
  if (back === 0) return false;
  const answer = enquiry.settle({
    file: source.file.name,
    name: "walks",
    ask: "Its times go back: does each such place begin another walk (split), or is it one walk?",
    guess: "split",
    why: `times go back in ${back} place${back === 1 ? "" : "s"} of the rows looked at`,
    choices: ["split", "one"],
  });
  return answer === "split";
}
