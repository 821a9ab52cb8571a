import { columnName, isSlice, sliceTag } from "./column-name.js";

/** A cell of a frame; NaN where it is missing. */
export type Cell = string | number | boolean;

/** Columns by name, each with a cell a row. */
export type Columns = ReadonlyMap<string, readonly Cell[]>;

type Fields = Readonly<Record<string, unknown>>;

/**
 * Columns of a list of records, nested fields flattened, in the order in which they first occur.
 */
export function recordColumns(records: readonly object[]): Columns {
  const intervals = intervalFields(records);
  const rows = records.map((record) =>
    Object.entries(record).flatMap(([field, value]) =>
      cellsOf(value, intervals.has(field)).map(
        ([tags, cell]) => [columnName(field, tags), cell] as const,
      ),
    ),
  );
  const named = rows.map((row) => new Map(row));
  const names = new Set(rows.flatMap((row) => row.map(([name]) => name)));
  const column = (name: string) => named.map((row) => row.get(name) ?? Number.NaN);
  return new Map([...names].map((name) => [name, column(name)]));
}

/** Fields that hold two numbers, not falling, in every record that has them. */
function intervalFields(records: readonly object[]): ReadonlySet<string> {
  const held = new Map<string, boolean>();
  for (const [field, value] of records.flatMap((record) => Object.entries(record))) {
    if (value !== null && value !== undefined) {
      held.set(field, (held.get(field) ?? true) && isInterval(value));
    }
  }
  return new Set([...held].flatMap(([field, holds]) => (holds ? [field] : [])));
}

function isInterval(value: unknown): value is readonly [number, number] {
  if (!Array.isArray(value) || value.length !== 2) return false;
  return typeof value[0] === "number" && value[0] <= value[1];
}

/** The cells of one field, each with the tags of its column. */
type TaggedCells = readonly (readonly [tags: readonly string[], cell: Cell])[];

function cellsOf(value: unknown, interval: boolean): TaggedCells {
  if (value === null || value === undefined) return [];
  if (interval && isInterval(value)) return lowAndHigh(value);
  if (Array.isArray(value)) return listCells(value);
  if (typeof value === "object" && !ArrayBuffer.isView(value)) return memberCells(value as Fields);
  return [[[], scalar(value)]];
}

function lowAndHigh([low, high]: readonly [number, number]): TaggedCells {
  return [
    [["low"], low],
    [["high"], high],
  ];
}

/** Slices and named records have columns of their own; any other list is one text. */
function listCells(list: readonly unknown[]): TaggedCells {
  const tagged = list.map((item) => [itemTag(item), item] as const);
  if (list.length === 0 || tagged.some(([tag]) => tag === null)) return [[[], scalar(list)]];
  return tagged.flatMap(([tag, item]) =>
    memberCells(item as Fields, ["top_m", "base_m", "name"]).map(
      ([tags, cell]) => [[tag ?? "", ...tags], cell] as const,
    ),
  );
}

function itemTag(item: unknown): string | null {
  if (isSlice(item)) return sliceTag(item);
  const { name } = (item ?? {}) as { readonly name?: unknown };
  return typeof name === "string" ? name : null;
}

/** A member has its name for a tag, the median none: it stands for the whole. */
function memberCells(fields: Fields, without: readonly string[] = []): TaggedCells {
  return Object.entries(fields)
    .filter(([name]) => !without.includes(name))
    .flatMap(([name, value]) =>
      cellsOf(value, isInterval(value)).map(
        ([tags, cell]) => [name === "median" ? tags : [name, ...tags], cell] as const,
      ),
    );
}

/** A value in one cell: lists with commas, what else is no scalar as JSON. */
function scalar(value: unknown): Cell {
  if (typeof value === "number" || typeof value === "boolean") return value;
  if (typeof value === "string") return value;
  if (ArrayBuffer.isView(value)) return scalar(Array.from(value as Float64Array));
  if (!Array.isArray(value)) return String(value);
  return value.map((item) => (isPlain(item) ? JSON.stringify(item) : String(item))).join(", ");
}

function isPlain(value: unknown): boolean {
  return typeof value === "object" && value !== null;
}
