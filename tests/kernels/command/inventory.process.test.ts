// Whole inventories, as processes on Snakemake: a spoiled survey, a job that is killed, other numbers
// of jobs, a run that goes on.
import { createHash } from "node:crypto";
import { readdir, readFile, rm, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { makeSurvey, writeSurvey } from "../../abroad/index.js";
import { describeWith } from "../../support/needs.js";
import { snakemake } from "../../support/python.js";
import { withFolder } from "../support/cells.js";
import { banquetteIn } from "./banquette.js";

const env = { BANQUETTE_SNAKEMAKE: snakemake };

function writeReach(folder: string, seed: number): void {
  const made = makeSurvey({
    ...{ seed, ground: "blocks", instrument: "three separations HCP", errors: "noise" },
    ...{ length_m: 80, campaigns: 1, slopes: { bank: "broad" } },
  });
  writeSurvey(made, folder);
}

/** Two sound reaches, one that will be killed, and one with a row of another length. */
async function writeInventory(folder: string): Promise<void> {
  for (const [k, reach] of ["north", "middle", "south"].entries()) {
    writeReach(join(folder, "bank", reach), 31 + k);
  }
  writeReach(join(folder, "bank", "spoiled"), 34);
  const walk = (await readdir(join(folder, "bank", "spoiled"))).find((one) => /^walk/.test(one))!;
  const file = join(folder, "bank", "spoiled", walk);
  const lines = (await readFile(file, "utf8")).split("\n");
  await writeFile(file, lines.with(4, "2031-10-14,torn").join("\n"));
}

async function parquetHashes(out: string): Promise<Record<string, string>> {
  const all = await readdir(join(out, "tables"), { recursive: true });
  const names = all.filter((name) => name.endsWith(".parquet")).sort();
  const hashes = names.map(async (name) => {
    const bytes = await readFile(join(out, "tables", name));
    return [name, createHash("sha256").update(bytes).digest("hex")] as const;
  });
  return Object.fromEntries(await Promise.all(hashes));
}

/** Kills the first process that works on a reach; gives its id once it is gone. */
async function killJob(reach: string): Promise<number> {
  for (;;) {
    for (const pid of await readdir("/proc")) {
      const words = await readFile(`/proc/${pid}/cmdline`, "utf8").catch(() => "");
      const [program = "", ...rest] = words.split("\0");
      if (!/node$/.test(program) || !rest.includes("inventory-reach")) continue;
      if (rest[rest.indexOf("--reach") + 1] !== reach) continue;
      process.kill(Number(pid), "SIGKILL");
      return Number(pid);
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
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
      await killJob("middle");
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
