/** A column of a stored table. Reals carry their unit in their name. */
export interface StoredColumn {
  readonly name: string;
  readonly type: "text" | "integer" | "real" | "yes or no" | "geometry";
  readonly meaning: string;
}

export type StoredValue = string | number | boolean | Uint8Array | null;

/** Values in the order of the table's columns. */
export type StoredRow = readonly StoredValue[];

/** One table of the inventory: its columns, and where its rows stand. */
export interface StoredTable {
  readonly name: string;
  readonly meaning: string;
  readonly columns: readonly StoredColumn[];
  /** Columns that order the rows, and together name one. */
  readonly key: readonly string[];
  /** "Point" or "LineString" where it has a column `geometry`. */
  readonly geometry?: "Point" | "LineString";
}

/** A column's definition in one line. */
export function column(name: string, type: StoredColumn["type"], meaning: string): StoredColumn {
  return { name, type, meaning };
}

/** What every table of a reach begins with; its files are partitioned by both. */
export const partitionColumns: readonly StoredColumn[] = [
  column("reach", "text", "Name of the reach."),
  column("campaign", "text", "Label of the campaign that the row rests on."),
];

export const lineColumn = column(
  "line",
  "text",
  "Name of the walked line; null where the reach walked one line.",
);

export const stretchColumns: readonly StoredColumn[] = [
  column("from_m", "real", "Chainage at which the stretch begins, m."),
  column("to_m", "real", "Chainage at which the stretch ends, m."),
];

export const geometryColumn = column(
  "geometry",
  "geometry",
  "Well-known binary (WKB), longitude and latitude on WGS 84.",
);
