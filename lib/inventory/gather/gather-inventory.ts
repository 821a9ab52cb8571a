import { mkdir, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { PooledClasses } from "../classes/pooled-classes.js";
import type { HoleBudget } from "../holes/shared-plan.js";
import type { Reach } from "../reaches/reach.js";
import { inDatabase } from "../tables/database.js";
import { reachTables } from "../tables/reach-tables.js";
import { schemaOf } from "../tables/schema.js";
import { wholeTables } from "../tables/whole-tables.js";
import { removeReachTables, TABLES, writeWholeTable } from "../tables/write-tables.js";
import { type Compared, compareReaches } from "./compare-reaches.js";
import { type GatheredReach, gatheredReach } from "./gathered-reach.js";
import { wholeRows } from "./whole-rows.js";

export interface GatherOptions {
  readonly budget: HoleBudget;
  /** Classes of an earlier run, whose names are kept. */
  readonly known: Pick<PooledClasses, "depths_m" | "classes"> | null;
  /** Why a reach's job left nothing. */
  readonly lastWords: (reach: Reach) => Promise<readonly string[]>;
}

export interface GatheredInventory extends Compared {
  readonly reaches: readonly GatheredReach[];
}

/** The classes that a run found, for a later one to keep their names. */
export const CLASSES_FILE = "classes.json";

/**
 * Looks at all reaches together and writes what they say: a table each for reaches, classes, blocks
 * by class, weights, ranking and holes, `classes.json`, and `schema.json` for every table. Rows of
 * reaches that are no longer in the inventory, or came to nothing, leave the tables. The same
 * records give the same bytes.
 */
export async function gatherInventory(
  out: string,
  reaches: readonly Reach[],
  { budget, known, lastWords }: GatherOptions,
): Promise<GatheredInventory> {
  const gathered: GatheredReach[] = [];
  for (const reach of reaches) gathered.push(await gatheredReach(out, reach, lastWords));
  await removeOthers(out, gathered);
  const compared = compareReaches(gathered, { budget, known });
  const rows = wholeRows(gathered, compared);
  await mkdir(out, { recursive: true });
  await inDatabase(async (connection) => {
    for (const table of wholeTables) {
      await writeWholeTable(connection, { table, rows: rows[table.name] ?? [], out });
    }
  });
  const { depths_m, classes } = compared.classes;
  await writeFile(join(out, CLASSES_FILE), `${JSON.stringify({ depths_m, classes }, null, 2)}\n`);
  await writeFile(join(out, "schema.json"), `${JSON.stringify(schemaOf(), null, 2)}\n`);
  return { reaches: gathered, ...compared };
}

async function removeOthers(out: string, gathered: readonly GatheredReach[]): Promise<void> {
  const kept = new Set(
    gathered.flatMap(({ reach, found }) => (found === null ? [] : [`reach=${reach.reach}`])),
  );
  for (const { name } of reachTables) {
    const there = await readdir(join(out, TABLES, name)).catch(() => []);
    for (const partition of there.filter((one) => !kept.has(one))) {
      await removeReachTables(out, partition.replace(/^reach=/, ""));
    }
  }
}
