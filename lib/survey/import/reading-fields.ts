import type { Channel } from "../instrument.js";
import type { ChannelPlan } from "./channels/settle-channels.js";
import { type Column, meant } from "./columns/column.js";
import type { PositionPlan } from "./columns/settle-position.js";
import type { TimePlan } from "./columns/settle-time.js";
import { type FieldPlan, unreadable } from "./fields.js";
import { plainNumber } from "./values/number-form.js";
import { isMarkForNone } from "./values/shape.js";
import { metresIn } from "./values/unit-text.js";

/** What the fields of readings or base checks are made of. */
export interface MeasuredParts {
  readonly role: "readings" | "base-checks";
  readonly columns: readonly Column[];
  readonly time: TimePlan;
  readonly position: PositionPlan | null;
  readonly channels: readonly ChannelPlan[];
  /** Numbers that stand for no value. */
  readonly marks: ReadonlySet<number>;
  /** The name of the walked line, or of the spot, where no column tells it. */
  readonly label: string;
}

/** The fields that are written of readings or base checks, in the order of the contract. */
export function measuredFields(parts: MeasuredParts): readonly FieldPlan[] {
  const { role, position, channels, columns } = parts;
  const labelled = labelField(parts);
  const [height] = meant(columns, "height_m");
  return [
    timeField(parts.time, role === "base-checks"),
    ...(role === "readings" && position !== null ? positionFields(position) : []),
    ...(labelled === null ? [] : [labelled]),
    ...(role === "readings" && height !== undefined ? [heightField(height)] : []),
    ...channels.map((plan) => channelField(plan, parts.marks)),
  ];
}

function timeField({ from, how, read }: TimePlan, isCell: boolean): FieldPlan {
  return {
    name: "time",
    type: "datetime",
    title: "UTC",
    from,
    how,
    isNeeded: true,
    write: (cells) => {
      const time_s = read(cells);
      if (typeof time_s === "number") return isoText(time_s);
      if (time_s !== null) return time_s;
      return isCell ? { cause: "no time" } : "";
    },
  };
}

/** To the millisecond, which no walk needs. */
export function isoText(time_s: number): string {
  return new Date(Math.round(1000 * time_s)).toISOString().replace(".000Z", "Z");
}

const DIGITS = { longitude: 8, latitude: 8, easting: 3, northing: 3 } as const;

/** The two fields of a position; what cannot be read, or is 0, 0, leaves both blank. */
export function positionFields(plan: PositionPlan): readonly FieldPlan[] {
  return plan.fields.map((name, k) => ({
    name,
    type: "number" as const,
    title: plan.how,
    from: [plan.from[k]!],
    how: plan.how,
    isNeeded: false,
    write: (cells: readonly string[]) => {
      if (plan.isBlank(cells)) return "";
      const pair = plan.read(cells);
      if (pair.some(Number.isNaN)) return { cause: "a position that cannot be read" };
      // What a receiver writes without a position.
      if (pair.every((value) => value === 0)) return { cause: "a position of 0, 0" };
      return String(Number(pair[k]!.toFixed(DIGITS[name])));
    },
  }));
}

function labelField({ role, columns, label }: MeasuredParts): FieldPlan | null {
  const name = role === "readings" ? "line" : "spot";
  const [column] = meant(columns, name);
  const base = { name, type: "string", isNeeded: false } as const;
  if (column === undefined) {
    if (label === "") return null;
    return { ...base, title: name, from: [], how: `"${label}" throughout`, write: () => label };
  }
  const { index, header } = column;
  return { ...base, title: header, from: [header], how: "as it is", write: (c) => c[index] ?? "" };
}

function heightField(column: Column): FieldPlan {
  const factor = metresIn(column.unit) ?? 1;
  return {
    name: "height_m",
    type: "number",
    title: column.header,
    from: [column.header],
    how: `metres, times ${factor}`,
    isNeeded: false,
    write: numberWriter(column, factor, new Set()),
  };
}

function channelField(
  { column, channel, unit, factor }: ChannelPlan,
  marks: ReadonlySet<number>,
): FieldPlan {
  return {
    name: channel.field,
    type: "number",
    title: `${column.header}: ${channelWords(channel)}`,
    from: [column.header],
    how: factor === 1 ? unit : `${unit}, times ${factor} to ${channel.unit}`,
    isNeeded: false,
    write: numberWriter(column, factor, marks),
  };
}

function channelWords({ kind, unit, frequency_Hz, separation_m, orientation }: Channel): string {
  return `${kind}, ${unit}, ${frequency_Hz} Hz, ${separation_m} m, ${orientation}`;
}

/** Digits stay as they were written unless the unit is changed. */
export function numberWriter(
  { index, numbers }: Pick<Column, "index" | "numbers">,
  factor: number,
  marks: ReadonlySet<number>,
): FieldPlan["write"] {
  return (cells) => {
    const cell = cells[index] ?? "";
    if (cell === "") return "";
    if (isMarkForNone(cell)) return { cause: "a mark for no value" };
    const plain = plainNumber(cell, numbers);
    if (plain === null) return unreadable();
    if (marks.has(Number(plain))) return { cause: "a mark for no value" };
    return factor === 1 ? plain : String(Number((Number(plain) * factor).toPrecision(12)));
  };
}
