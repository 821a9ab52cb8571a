import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Connection, inDatabase } from "../../../lib/inventory/tables/database.js";
import { reachTables } from "../../../lib/inventory/tables/reach-tables.js";
import { removeReachTables, writeReachTables } from "../../../lib/inventory/tables/write-tables.js";
import { withFolder } from "../../kernels/support/cells.js";
import { madeReach } from "../made/made-reach.js";

const { record } = madeReach({ seed: 7, reach: "R1" });

async function rowsOf(connection: Connection, sql: string) {
  return (await connection.runAndReadAll(sql)).getRowObjectsJson();
}

async function hashes(folder: string): Promise<Record<string, string>> {
  const names = (await readdir(folder, { recursive: true })).filter((one) =>
    one.endsWith(".parquet"),
  );
  const entries = names.sort().map(async (name) => {
    const bytes = await readFile(join(folder, name));
    return [name, createHash("sha256").update(bytes).digest("hex")] as const;
  });
  return Object.fromEntries(await Promise.all(entries));
}

describe("a reach's part of the tables", () => {
  it("lies by reach and campaign, and is the same bytes each time", async () => {
    await withFolder(async (folder) => {
      await writeReachTables(join(folder, "one"), record);
      await writeReachTables(join(folder, "other"), record);
      const one = await hashes(join(folder, "one"));
      expect(Object.keys(one)).toContain("tables/blocks/reach=R1/campaign=2031-04/part0.parquet");
      expect(Object.keys(one)).toContain("tables/account/reach=R1/campaign=2031-10/part0.parquet");
      expect(await hashes(join(folder, "other"))).toEqual(one);
    });
  });

  it("has the columns that the schema states, and all rows", async () => {
    await withFolder(async (folder) => {
      await writeReachTables(folder, record);
      await inDatabase(async (connection) => {
        for (const table of reachTables) {
          const files = `read_parquet('${folder}/tables/${table.name}/*/*/*.parquet', hive_partitioning = false)`;
          const columns = await rowsOf(connection, `DESCRIBE SELECT * FROM ${files}`);
          expect(columns.map((one) => one.column_name)).toEqual(
            table.columns.map(({ name }) => name),
          );
          const [count] = await rowsOf(connection, `SELECT count(*)::INTEGER AS n FROM ${files}`);
          expect(count!.n, table.name).toBe(table.rows(record).length);
        }
      });
    });
  });

  it("holds geometry that a reader takes for places on WGS 84", async () => {
    await withFolder(async (folder) => {
      await writeReachTables(folder, record);
      await inDatabase(async (connection) => {
        const from = `FROM '${folder}/tables/holes/*/*/*.parquet'`;
        const [row] = await rowsOf(
          connection,
          `SELECT typeof(geometry) AS kind, ST_AsText(geometry) AS place ${from}`,
        );
        expect(row!.kind).toBe("GEOMETRY('OGC:CRS84')");
        const [lon, lat] = record.paths.boreholes[0]!;
        expect(row!.place).toBe(`POINT (${lon} ${lat})`);
      });
    });
  });

  it("takes the place of what stood there, and goes with its reach", async () => {
    await withFolder(async (folder) => {
      await writeReachTables(folder, record);
      await writeReachTables(folder, { ...record, campaign: "2031-10" });
      const kept = Object.keys(await hashes(folder));
      expect(kept.filter((name) => name.startsWith("tables/blocks/"))).toEqual([
        "tables/blocks/reach=R1/campaign=2031-10/part0.parquet",
      ]);
      await removeReachTables(folder, "R1");
      expect(await hashes(folder)).toEqual({});
    });
  });
});
