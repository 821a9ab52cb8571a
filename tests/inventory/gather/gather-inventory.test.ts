import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  type GatheredInventory,
  type GatherOptions,
  gatherInventory,
} from "../../../lib/inventory/gather/gather-inventory.js";
import { groundOverReaches } from "../../../lib/inventory/open/ground-over-reaches.js";
import { holesOverReaches } from "../../../lib/inventory/open/holes-over-reaches.js";
import { openInventory } from "../../../lib/inventory/open/open-inventory.js";
import { queryInventory } from "../../../lib/inventory/open/query-inventory.js";
import { rankingOverReaches } from "../../../lib/inventory/open/ranking-over-reaches.js";
import { unknownOverReaches } from "../../../lib/inventory/open/unknown-over-reaches.js";
import type { Reach } from "../../../lib/inventory/reaches/reach.js";
import { wholeTables } from "../../../lib/inventory/tables/whole-tables.js";
import { madeInventory } from "../made/judge-inventory.js";
import { writeMade } from "../made/write-made.js";

const made = madeInventory(8, 301);
const options: GatherOptions = {
  budget: { holes: 4, metres: null },
  known: null,
  lastWords: async () => ["killed"],
};
const torn: Reach = { reach: "torn", folder: "x/torn", details: { owner: "North" } };
const silent: Reach = { reach: "silent", folder: "x/silent", details: {} };

let out = "";
let gathered: GatheredInventory;

beforeAll(async () => {
  out = mkdtempSync(join(tmpdir(), "wend-"));
  const reaches = await writeMade(out, made);
  mkdirSync(join(out, "reaches", "torn"));
  const refused = { reach: "torn", state: "refused", faults: ["walk.csv row 3: torn", "and more"] };
  writeFileSync(join(out, "reaches", "torn", "outcome.json"), JSON.stringify(refused));
  gathered = await gatherInventory(out, [...reaches, torn, silent], options);
});
afterAll(() => rmSync(out, { recursive: true, force: true }));

describe("an inventory that is gathered", () => {
  it("holds every reach: interpreted, refused with its faults, and failed with its last words", () => {
    const states = gathered.reaches.map(({ reach, state, why }) => [reach.reach, state, why]);
    expect(states.slice(-2)).toEqual([
      ["torn", "refused", ["walk.csv row 3: torn", "and more"]],
      ["silent", "failed", ["killed"]],
    ]);
    expect(gathered.reaches.filter(({ found }) => found !== null)).toHaveLength(8);
  });

  it("is written as the tables that the schema states", async () => {
    const schema = JSON.parse(readFileSync(join(out, "schema.json"), "utf8")) as {
      tables: { name: string; columns: { name: string }[] }[];
    };
    expect(schema.tables).toHaveLength(15);
    const inventory = await openInventory(out);
    for (const { name, columns } of schema.tables) {
      const { value } = await queryInventory(
        inventory,
        `SELECT column_name FROM (DESCRIBE ${name})`,
      );
      expect(value.map((row) => row.column_name)).toEqual(columns.map((one) => one.name));
    }
  });

  it("gives the same files again, and in another order of the reaches", async () => {
    const bytes = () =>
      wholeTables.map(({ name }) => readFileSync(join(out, `tables/${name}.parquet`)));
    const before = bytes();
    const reaches = gathered.reaches.map(({ reach }) => reach).toReversed();
    await gatherInventory(out, reaches, options);
    expect(bytes()).toEqual(before);
  });

  it("forgets a reach that is no longer in it", async () => {
    const reaches = gathered.reaches.map(({ reach }) => reach);
    await gatherInventory(out, reaches.slice(1), options);
    expect(readdirSync(join(out, "tables/blocks"))).not.toContain("reach=R0000");
    await writeMade(out, made.slice(0, 1));
    await gatherInventory(out, reaches, options);
    expect(readdirSync(join(out, "tables/blocks"))).toContain("reach=R0000");
  });
});

describe("an inventory that is opened", () => {
  it("shows its reaches on a map, and names those that came to nothing", async () => {
    const { value, figures, tables, cautions } = await openInventory(out);
    expect(value.reaches).toHaveLength(10);
    expect(figures.map(({ id }) => id)).toEqual(["inventory-map"]);
    expect(tables[0]!.rows).toEqual([
      { reach: "silent", folder: "x/silent", state: "failed", why: "killed" },
      { reach: "torn", folder: "x/torn", state: "refused", why: "walk.csv row 3: torn\nand more" },
    ]);
    expect(cautions[0]!.text).toContain("2 reaches are in no figure");
  });

  it("shows ranking, ground, holes and what is unknown, as they were gathered", async () => {
    const inventory = await openInventory(out);
    const ranking = rankingOverReaches(inventory);
    expect(ranking.value.map(({ reach, rank }) => [reach, rank])).toEqual(
      gathered.ranking.map(({ reach, rank }) => [reach, rank]),
    );
    expect(ranking.figures.map(({ id }) => id)).toEqual([
      "inventory-ranking",
      "inventory-rank-moves",
    ]);
    const names = new Set(groundOverReaches(inventory).value.classes.map((one) => one.class));
    expect([...names]).toEqual(gathered.classes.classes.map(({ name }) => name));
    expect(holesOverReaches(inventory).value.map(({ reach }) => reach)).toEqual(
      gathered.holes.map(({ hole }) => hole.reach),
    );
    const [none] = unknownOverReaches(inventory).tables[0]!.rows;
    expect(none).toEqual({ what: "no resistivity by depth", reaches: 8, km: 8 * 0.012 });
  });

  it("answers in SQL, with a map of rows that have a place", async () => {
    const inventory = await openInventory(out);
    const { value, figures } = await queryInventory(
      inventory,
      "SELECT reach, block, class, to_m - from_m AS length_m, geometry FROM block_classes;",
      { colourBy: "class" },
    );
    expect(value).toHaveLength(made.reduce((sum, { blocks }) => sum + blocks.length, 0));
    expect(value[0]!.geometry).toMatch(/^LINESTRING \(/);
    expect(figures).toHaveLength(1);
    await expect(queryInventory(inventory, "SELECT * FROM nothing")).rejects.toThrow(
      "queryInventory: sql must be one query that DuckDB understands, got Catalog Error",
    );
  });

  it("is refused where the folder holds none", async () => {
    await expect(openInventory(join(out, "nowhere"))).rejects.toThrow(
      "openInventory: folder must be the output folder of banquette inventory",
    );
  });
});
