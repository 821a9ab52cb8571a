import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { defineStep, runLongStep } from "../../step/define-step.js";
import { StepError } from "../../step/step-error.js";
import type { StepResult } from "../../step/step-result.js";
import { TABLES } from "../tables/write-tables.js";
import type { Inventory } from "./inventory.js";
import { inventoryMap } from "./map-figure.js";
import { queryTables } from "./query-tables.js";

const step = defineStep({
  name: "openInventory",
  options: {},
  run: opened,
  report: (value) => ({
    value,
    summary: summaryOf(value),
    cautions: cautionsOf(value),
    figures: inventoryMap(value),
    tables: [failedTable(value)].flatMap((table) => (table.rows.length > 0 ? [table] : [])),
  }),
});

/**
 * Reads what `banquette inventory` gathered: its reaches, those that came to nothing with the
 * reason, and what holds over all of them, with a map of the reaches and the strongest seepage
 * zones.
 *
 * @param folder - the output folder of `banquette inventory`.
 * @returns the tables over all reaches; `queryInventory` asks for more.
 * @throws StepError where the folder holds no inventory.
 */
export async function openInventory(folder: string): Promise<StepResult<Inventory>> {
  return runLongStep(step, folder, {});
}

async function opened(folder: string): Promise<Inventory> {
  const there: readonly string[] = await readdir(join(folder, TABLES)).catch(() => []);
  if (!there.includes("reaches.parquet")) {
    const expected = "the output folder of banquette inventory";
    const fault = { code: "no-inventory", path: "folder", expected, received: folder };
    throw new StepError("openInventory", [fault]);
  }
  const rows = async <Row>(sql: string) => (await queryTables(folder, sql)) as readonly Row[];
  return {
    folder,
    reaches: await rows("SELECT * FROM reaches ORDER BY reach"),
    ranking: await rows("SELECT * FROM ranking ORDER BY rank"),
    classes: await rows("SELECT * FROM classes ORDER BY class, top_m"),
    weights: await rows("SELECT * FROM weights ORDER BY reach NULLS FIRST, piece"),
    holes: await rows("SELECT * FROM shared_holes ORDER BY priority"),
    unknown: await rows(
      "SELECT reach, what, max(length_m) AS length_m FROM (SELECT reach, campaign, what, " +
        "sum(to_m - from_m) AS length_m FROM unknown GROUP BY reach, campaign, what) " +
        "GROUP BY reach, what ORDER BY reach, what",
    ),
  };
}

export const interpretedOf = ({ reaches }: Inventory) =>
  reaches.filter(({ state }) => state === "interpreted");

export const kilometres = (rows: readonly { readonly length_m: number | null }[]) =>
  rows.reduce((sum, { length_m }) => sum + (length_m ?? 0), 0) / 1000;

function summaryOf(inventory: Inventory): string {
  const { reaches, ranking, holes } = inventory;
  const found = interpretedOf(inventory);
  const sum = (of: (one: (typeof found)[number]) => number | null) =>
    found.reduce((total, one) => total + (of(one) ?? 0), 0).toLocaleString("en");
  return (
    `${found.length} of ${reaches.length} reaches are interpreted, ${kilometres(found).toFixed(1)} km ` +
    `with ${sum((one) => one.readings)} readings (${sum((one) => one.set_aside)} set aside), ` +
    `${sum((one) => one.incidents)} incidents of water on record and ` +
    `${sum((one) => one.boreholes)} boreholes. ${ranking.length} seepage zones are ranked together; ` +
    `${holes.length} boreholes are proposed.`
  );
}

function cautionsOf(inventory: Inventory): readonly string[] {
  const failed = inventory.reaches.length - interpretedOf(inventory).length;
  if (failed === 0) return [];
  const are = failed === 1 ? "reach is" : "reaches are";
  return [`${failed} ${are} in no figure and no ranking: what stands there is not known.`];
}

function failedTable({ reaches }: Inventory) {
  return {
    id: "inventory-failed",
    caption: "Reaches that came to nothing, and why",
    columns: [
      { field: "reach", label: "Reach" },
      { field: "folder", label: "Folder" },
      { field: "state", label: "State" },
      { field: "why", label: "Why" },
    ],
    rows: reaches
      .filter(({ state }) => state !== "interpreted")
      .map(({ reach, folder, state, why }) => ({ reach, folder, state, why })),
  };
}
