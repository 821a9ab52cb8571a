import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import type { ReachRecord } from "../record/reach-record.js";
import { type Connection, fillTable, inDatabase, quotedName, quotedText } from "./database.js";
import { geoMetadata } from "./geo-metadata.js";
import { reachTables } from "./reach-tables.js";
import type { StoredRow, StoredTable } from "./stored-table.js";

/** The folder of the tables within an inventory's output. */
export const TABLES = "tables";

const partitionOf = (out: string, table: string, reach: string) =>
  join(out, TABLES, table, `reach=${reach}`);

/**
 * Writes a reach's part of every table: `tables/TABLE/reach=R/campaign=C/*.parquet`, in place of
 * what stood there. Rows are in the order of the table's key; the same record gives the same bytes.
 */
export async function writeReachTables(out: string, record: ReachRecord): Promise<void> {
  await inDatabase((connection) => copyReach(connection, out, record));
}

/** The same in a database that is open. */
export async function copyReach(
  connection: Connection,
  out: string,
  record: ReachRecord,
): Promise<void> {
  await removeReachTables(out, record.reach);
  for (const table of reachTables) {
    const rows = table.rows(record);
    if (rows.length > 0) await copyPartitions(connection, { table, rows, out });
  }
}

/** Takes a reach out of every table. */
export async function removeReachTables(out: string, reach: string): Promise<void> {
  for (const { name } of reachTables) {
    await rm(partitionOf(out, name, reach), { recursive: true, force: true });
  }
}

interface Copied {
  readonly table: StoredTable;
  readonly rows: readonly StoredRow[];
  readonly out: string;
}

async function copyPartitions(connection: Connection, { table, rows, out }: Copied) {
  await fillTable(connection, table, rows);
  const folder = join(out, TABLES, table.name);
  await mkdir(folder, { recursive: true });
  const partitioned =
    "PARTITION_BY (reach, campaign), WRITE_PARTITION_COLUMNS true, OVERWRITE_OR_IGNORE true, " +
    "FILENAME_PATTERN 'part'";
  await connection.run(copyStatement(table, folder, partitioned));
}

/** Writes one table that holds all reaches: `tables/TABLE.parquet`. */
export async function writeWholeTable(
  connection: Connection,
  { table, rows, out }: Copied,
): Promise<void> {
  await fillTable(connection, table, rows);
  await mkdir(join(out, TABLES), { recursive: true });
  await connection.run(copyStatement(table, join(out, TABLES, `${table.name}.parquet`)));
}

function copyStatement({ name, key, geometry }: StoredTable, to: string, further?: string): string {
  const order = key.map((one) => `${quotedName(one)} NULLS FIRST`).join(", ");
  const geo =
    geometry === undefined ? [] : [`KV_METADATA {geo: ${quotedText(geoMetadata(geometry))}}`];
  const options = ["FORMAT parquet", "COMPRESSION zstd", ...(further ? [further] : []), ...geo];
  const rows = `SELECT * FROM ${quotedName(name)} ORDER BY ${order}`;
  return `COPY (${rows}) TO ${quotedText(to)} (${options.join(", ")})`;
}
