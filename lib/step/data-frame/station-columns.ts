import { columnName, isSlice, sliceTag } from "./column-name.js";
import type { Cell, Columns } from "./record-columns.js";

/** A value with columns along chainage, such as depth slices or seepage. */
export interface AlongChainage {
  /** n chainages, m. */
  readonly chainage_m: ArrayLike<number>;
}

/**
 * The columns of a value along chainage: its fields of n entries, those by slice a column for each
 * slice, and those of named records a column for each name. What has no n entries is left out.
 */
export function stationColumns(value: AlongChainage): Columns {
  const { slices, ...fields } = value as AlongChainage & { readonly slices?: unknown };
  const tags = Array.isArray(slices) && slices.every(isSlice) ? slices.map(sliceTag) : [];
  const frame: Frame = { rows: value.chainage_m.length, tags };
  return new Map(
    Object.entries(fields).flatMap(([field, held]) =>
      columnsOf(held, frame).map(([names, cells]) => [columnName(field, names), cells] as const),
    ),
  );
}

interface Frame {
  readonly rows: number;
  /** Of the slices, from the top down. */
  readonly tags: readonly string[];
}

type TaggedColumn = readonly [tags: readonly string[], cells: readonly Cell[]];

function columnsOf(held: unknown, frame: Frame): readonly TaggedColumn[] {
  const cells = columnOf(held, frame);
  if (cells !== null) return [[[], cells]];
  if (!Array.isArray(held)) return [];
  if (held.length !== frame.tags.length) return held.flatMap((item) => namedColumns(item, frame));
  return frame.tags.flatMap((tag, k): TaggedColumn[] => {
    const column = columnOf(held[k], frame);
    return column === null ? [] : [[[tag], column]];
  });
}

/** Columns of a record with a name, such as a piece of evidence along the line. */
function namedColumns(item: unknown, frame: Frame): readonly TaggedColumn[] {
  const { name, ...fields } = (item ?? {}) as { readonly name?: unknown };
  if (typeof name !== "string") return [];
  return Object.entries(fields).flatMap(([field, held]): TaggedColumn[] => {
    const column = columnOf(held, frame);
    return column === null ? [] : [[[name, field], column]];
  });
}

function columnOf(held: unknown, { rows }: Frame): readonly Cell[] | null {
  if (!Array.isArray(held) && !(held instanceof Float64Array)) return null;
  const cells: readonly unknown[] = Array.from(held);
  return cells.length === rows && cells.every(isCell) ? cells : null;
}

function isCell(value: unknown): value is Cell {
  return ["number", "string", "boolean"].includes(typeof value);
}
