import { readdir } from "node:fs/promises";
import { join } from "node:path";
import {
  type Connection,
  inDatabase,
  quotedName,
  quotedText,
  sqlTypes,
} from "../tables/database.js";
import { reachTables } from "../tables/reach-tables.js";
import type { StoredTable } from "../tables/stored-table.js";
import { wholeTables } from "../tables/whole-tables.js";
import { TABLES } from "../tables/write-tables.js";

/** A value of a queried row; a geometry is well-known text. */
export type QueriedValue = string | number | boolean | null;
export type QueriedRow = Readonly<Record<string, QueriedValue>>;

/** Rows of a query in DuckDB's SQL; every table of the inventory is a view of its name. */
export async function queryTables(folder: string, sql: string): Promise<readonly QueriedRow[]> {
  return inDatabase(async (connection) => {
    await makeViews(connection, folder);
    const shown = await shownColumns(connection, sql);
    const rows = await connection.runAndReadAll(`SELECT ${shown} FROM (${inner(sql)}) AS asked`);
    return rows.getRowObjectsJS().map(plainRow);
  });
}

async function makeViews(connection: Connection, folder: string): Promise<void> {
  const there = new Set(await readdir(join(folder, TABLES)));
  for (const table of reachTables) {
    const files = quotedText(join(folder, TABLES, table.name, "*", "*", "*.parquet"));
    await makeView(connection, table, there.has(table.name) ? files : null);
  }
  for (const table of wholeTables) {
    const file = `${table.name}.parquet`;
    await makeView(connection, table, quotedText(join(folder, TABLES, file)));
  }
}

/** A table without a row has no file: the view is there, empty. */
async function makeView(connection: Connection, table: StoredTable, files: string | null) {
  const empty = table.columns.map(({ name, type }) => {
    const of = type === "geometry" ? "GEOMETRY" : sqlTypes[type];
    return `NULL::${of} AS ${quotedName(name)}`;
  });
  const content =
    files === null
      ? `SELECT ${empty.join(", ")} WHERE false`
      : `SELECT * FROM read_parquet(${files}, hive_partitioning = false)`;
  await connection.run(`CREATE VIEW ${quotedName(table.name)} AS ${content}`);
}

const inner = (sql: string) => sql.trim().replace(/;+$/, "");

async function shownColumns(connection: Connection, sql: string): Promise<string> {
  const described = await connection.runAndReadAll(`DESCRIBE ${inner(sql)}`);
  const columns = described.getRowObjectsJson() as { column_name: string; column_type: string }[];
  return columns
    .map(({ column_name, column_type }) => {
      const name = quotedName(column_name);
      return column_type.startsWith("GEOMETRY") ? `ST_AsText(${name}) AS ${name}` : name;
    })
    .join(", ");
}

function plainRow(row: Readonly<Record<string, unknown>>): QueriedRow {
  return Object.fromEntries(Object.entries(row).map(([name, value]) => [name, plain(value)]));
}

function plain(value: unknown): QueriedValue {
  if (value === null || value === undefined) return null;
  if (typeof value === "bigint") return Number(value);
  if (typeof value === "number" || typeof value === "boolean") return value;
  if (typeof value === "string") return value;
  return value instanceof Date ? value.toISOString() : JSON.stringify(value);
}
