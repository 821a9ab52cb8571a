// One inventory by Snakemake on this machine and by Snakemake on a one-node Slurm (.ci/slurm.sh): spoiled
// reaches and a killed job are told by both, and the tables are the same bytes.
// The size that the inventory was judged at, by hand: INVENTORY_REACHES=60 INVENTORY_LENGTH_M=2000
// npx vitest run tests/kernels/command/inventory-slurm --project process
import { execFile } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, it } from "vitest";
import { describeWith } from "../../support/needs.js";
import { snakemake } from "../../support/python.js";
import { repository, withFolder } from "../support/cells.js";
import { banquetteIn, type Ended } from "./banquette.js";
import { killJob, parquetHashes, writeReach, writeSpoiled } from "./support/inventories.js";

const REACHES = Number(process.env.INVENTORY_REACHES ?? 3);
const LENGTH_M = Number(process.env.INVENTORY_LENGTH_M ?? 80);
const SPOILED = REACHES < 10 ? 1 : 3;

const slurm = (action: "start" | "stop", folder: string) =>
  promisify(execFile)(join(repository, ".ci", "slurm.sh"), [action, folder]);

const onSlurm = [
  ...["--executor", "slurm", "--jobs", "2", "--"],
  ...["--slurm-no-account", "--slurm-status-command", "squeue"],
  ...["--slurm-init-seconds-before-status-checks", "2", "--seconds-between-status-checks", "2"],
  ...["--default-resources", 'slurm_partition="all"', "runtime=60"],
];

async function writeInventory(bank: string): Promise<void> {
  for (let k = 0; k < REACHES; k++) {
    const name = join(bank, `r${k}`);
    if (k < REACHES - SPOILED) writeReach(name, 31 + k, LENGTH_M);
    else await writeSpoiled(name, 31 + k, LENGTH_M);
  }
}

/** Runs the inventory, and kills the first job of a sound reach while it works. */
async function runKilling(folder: string, out: string, words: readonly string[]): Promise<Ended> {
  const env = { BANQUETTE_SNAKEMAKE: snakemake };
  const running = banquetteIn(folder, ["inventory", "bank", "--out", out, ...words], env);
  await killJob("r0", running);
  return running;
}

describeWith("slurm", "banquette inventory on Slurm", () => {
  let state: string;
  beforeAll(async () => {
    state = `/tmp/banquette-slurm-${process.pid}`;
    await slurm("start", state);
  });
  afterAll(() => slurm("stop", state));

  it("names what is spoiled, does a killed job again, and gives the bytes of a local run", async () => {
    await withFolder(async (folder) => {
      await writeInventory(join(folder, "bank"));
      const runs = { local: ["--jobs", "2"], slurm: onSlurm };
      for (const [out, words] of Object.entries(runs)) {
        const { exitCode, out: text, err } = await runKilling(folder, out, words);
        expect(exitCode, err).toBe(1);
        const told = err
          .split("\n")
          .filter((line) => /^banquette: r\d+ \(r\d+\): refused/.test(line));
        expect(told, err).toHaveLength(SPOILED);
        expect(text).toContain(`${REACHES - SPOILED} of ${REACHES} reaches interpreted`);
      }
      expect(await readFile(join(folder, "slurm", "snakemake.log"), "utf8")).toContain(
        "has been submitted with SLURM jobid",
      );
      const tables = await parquetHashes(join(folder, "slurm"));
      expect(Object.keys(tables).length).toBeGreaterThan(10);
      expect(tables).toEqual(await parquetHashes(join(folder, "local")));
    });
  }, 3_600_000);
});
