// Whole inventories, as processes on Snakemake: a spoiled survey, a job that is killed, other numbers
// of jobs, a run that goes on.
import { readdir, readFile, rm, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { snakemake } from "../../support/python.js";
import { withFolder } from "../support/cells.js";
import { banquetteIn } from "./banquette.js";
import { killJob, parquetHashes, writeReach, writeSpoiled } from "./support/inventories.js";

const env = { BANQUETTE_SNAKEMAKE: snakemake };

/** Two sound reaches, one that will be killed, and one with a row of another length. */
async function writeInventory(folder: string): Promise<void> {
  for (const [k, reach] of ["north", "middle", "south"].entries()) {
    writeReach(join(folder, "bank", reach), 31 + k);
  }
  await writeSpoiled(join(folder, "bank", "spoiled"), 34);
}

describeWith("snakemake", "banquette inventory", () => {
  it("names the spoiled reach, does the killed one again, and gives the same bytes by one job or two", async () => {
    await withFolder(async (folder) => {
      await writeInventory(folder);
      const running = banquetteIn(
        folder,
        ["inventory", "bank", "--out", "two", "--jobs", "2"],
        env,
      );
      await killJob("middle", running);
      const { exitCode, out, err } = await running;
      expect(exitCode, err).toBe(1);
      expect(err).toMatch(/^banquette: spoiled \(spoiled\): refused: walk\S* row 5/m);
      expect(err.split("\n").filter((line) => line.startsWith("banquette: "))).toHaveLength(1);
      expect(out).toContain("3 of 4 reaches interpreted");
      const log = await readFile(join(folder, "two", "snakemake.log"), "utf8");
      expect(log).toMatch(/Trying to restart job/);
      const page = await readFile(join(folder, "two", "inventory.html"), "utf8");
      expect(page).toContain("Reaches that came to nothing, and why");
      expect(page).not.toContain(folder);
      const two = await parquetHashes(join(folder, "two"));
      expect(Object.keys(two).filter((name) => name.startsWith("blocks/"))).toHaveLength(3);

      await banquetteIn(folder, ["inventory", "bank", "--out", "one", "--jobs", "1"], env);
      expect(await parquetHashes(join(folder, "one"))).toEqual(two);

      // What is up to date is not done again; a reach that is mended is, and only it.
      writeReach(join(folder, "bank", "spoiled"), 34);
      const later = new Date(Date.now() + 5000);
      const files = await readdir(join(folder, "bank", "spoiled"));
      for (const one of files) await utimes(join(folder, "bank", "spoiled", one), later, later);
      const again = await banquetteIn(folder, ["inventory", "bank", "--out", "one"], env);
      expect(again.exitCode, again.err).toBe(0);
      expect(again.out).toContain("4 of 4 reaches interpreted");
      expect(again.err).toContain("reach 1 of 1");

      // A reach that is taken out leaves the tables.
      await rm(join(folder, "bank", "spoiled"), { recursive: true });
      await rm(join(folder, "one", "classes.json"));
      await banquetteIn(folder, ["inventory", "bank", "--out", "one"], env);
      expect(await parquetHashes(join(folder, "one"))).toEqual({
        ...two,
        "reaches.parquet": expect.not.stringContaining(two["reaches.parquet"]!),
      });
    });
  });
});

describe("banquette inventory without an engine", () => {
  let ended: Awaited<ReturnType<typeof banquetteIn>>;
  beforeAll(async () => {
    await withFolder(async (folder) => {
      writeReach(join(folder, "bank", "north"), 31);
      const none = { BANQUETTE_SNAKEMAKE: join(folder, "no-such-program") };
      ended = await banquetteIn(folder, ["inventory", "bank"], none);
    });
  });

  it("says what is missing and how to install it", () => {
    expect(ended.exitCode).toBe(2);
    expect(ended.err).toContain("python3 -m pip install snakemake");
  });

  it("refuses a table of reaches with every fault first", async () => {
    await withFolder(async (folder) => {
      await writeFile(join(folder, "reaches.csv"), "reach,folder\nR 1,a\nR2,\n");
      const { exitCode, err } = await banquetteIn(folder, ["inventory", "."]);
      expect(exitCode).toBe(1);
      expect(err.trim().split("\n")).toHaveLength(2);
    });
  });
});
