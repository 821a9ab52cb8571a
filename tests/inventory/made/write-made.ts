import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Reach } from "../../../lib/inventory/reaches/reach.js";
import { inDatabase } from "../../../lib/inventory/tables/database.js";
import { copyReach } from "../../../lib/inventory/tables/write-tables.js";
import type { MadeReach } from "./made-reach.js";

/** What the jobs of made reaches would have left in an inventory's output folder. */
export async function writeMade(
  out: string,
  made: readonly MadeReach[],
): Promise<readonly Reach[]> {
  await inDatabase(async (connection) => {
    for (const { record } of made) {
      const own = join(out, "reaches", record.reach);
      mkdirSync(own, { recursive: true });
      const outcome = { reach: record.reach, state: "interpreted", faults: [] };
      writeFileSync(join(own, "record.json"), JSON.stringify(record));
      writeFileSync(join(own, "outcome.json"), JSON.stringify(outcome));
      await copyReach(connection, out, record);
    }
  });
  return made.map(({ record: { reach } }) => ({ reach, folder: reach, details: {} }));
}
