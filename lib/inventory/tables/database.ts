import type { StoredColumn, StoredRow, StoredTable, StoredValue } from "./stored-table.js";

/**
 * What is used of the engine's connection and appender. Its own types stay out of the library's
 * declarations, which every notebook reads.
 */
export interface Connection {
  run(statement: string): Promise<unknown>;
  runAndReadAll(query: string): Promise<ReadRows>;
  createAppender(table: string): Promise<Appender>;
}

export interface ReadRows {
  getRowObjectsJS(): readonly Readonly<Record<string, unknown>>[];
  getRowObjectsJson(): readonly Readonly<Record<string, Json>>[];
}

export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json };

export interface Appender {
  appendNull(): void;
  appendVarchar(value: string): void;
  appendInteger(value: number): void;
  appendDouble(value: number): void;
  appendBlob(value: Uint8Array): void;
  appendBoolean(value: boolean): void;
  endRow(): void;
  closeSync(): void;
}

/** One thread keeps the order of rows and the last digits of sums; nothing is fetched. */
const SETTINGS = {
  threads: "1",
  memory_limit: "768MB",
  autoinstall_known_extensions: "false",
  autoload_known_extensions: "false",
} as const;

/** A database in memory, for one task. It is loaded only where an inventory is written or read. */
export async function inDatabase<Value>(
  work: (connection: Connection) => Promise<Value>,
): Promise<Value> {
  const { DuckDBInstance } = await import("@duckdb/node-api");
  const instance = await DuckDBInstance.create(":memory:", SETTINGS);
  const connection = await instance.connect();
  try {
    return await work(connection);
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

export const sqlTypes: Readonly<Record<StoredColumn["type"], string>> = {
  text: "VARCHAR",
  integer: "INTEGER",
  real: "DOUBLE",
  "yes or no": "BOOLEAN",
  geometry: "BLOB",
};

/** Makes the table in the database, and fills it. */
export async function fillTable(
  connection: Connection,
  { name, columns }: Pick<StoredTable, "name" | "columns">,
  rows: readonly StoredRow[],
): Promise<void> {
  const defined = columns.map((one) => `${quotedName(one.name)} ${sqlTypes[one.type]}`);
  await connection.run(`CREATE OR REPLACE TABLE ${quotedName(name)} (${defined.join(", ")})`);
  const appender = await connection.createAppender(name);
  for (const row of rows) {
    for (const [i, { type }] of columns.entries()) append(appender, type, row[i] ?? null);
    appender.endRow();
  }
  appender.closeSync();
}

function append(appender: Appender, type: StoredColumn["type"], value: StoredValue): void {
  if (value === null || Number.isNaN(value)) appender.appendNull();
  else if (type === "text") appender.appendVarchar(value as string);
  else if (type === "integer") appender.appendInteger(value as number);
  else if (type === "real") appender.appendDouble(value as number);
  else if (type === "geometry") appender.appendBlob(value as Uint8Array);
  else appender.appendBoolean(value as boolean);
}

export const quotedName = (name: string) => `"${name.replaceAll('"', '""')}"`;
export const quotedText = (text: string) => `'${text.replaceAll("'", "''")}'`;
