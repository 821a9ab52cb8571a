import { reachTables } from "./reach-tables.js";
import type { StoredTable } from "./stored-table.js";
import { wholeTables } from "./whole-tables.js";
import { TABLES } from "./write-tables.js";

/** Parquet's type of each kind of column. */
export const parquetTypes = Object.freeze({
  text: "BYTE_ARRAY (UTF8)",
  integer: "INT32",
  real: "DOUBLE",
  "yes or no": "BOOLEAN",
  geometry: "BYTE_ARRAY (WKB; GeoParquet 1.1, OGC:CRS84)",
});

/** Every table of an inventory: where its files lie, what its rows are in order of, its columns. */
export function schemaOf() {
  return {
    tables: [
      ...reachTables.map((table) => described(table, `${TABLES}/${table.name}/reach=*/campaign=*`)),
      ...wholeTables.map((table) => described(table, `${TABLES}/${table.name}.parquet`)),
    ],
  };
}

function described({ name, meaning, columns, key }: StoredTable, files: string) {
  return {
    ...{ name, meaning, files, key },
    columns: columns.map((one) => ({ ...one, type: parquetTypes[one.type] })),
  };
}
