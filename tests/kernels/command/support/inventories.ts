// Inventories for whole runs: reaches written to a folder, a job that is killed, the tables' hashes.
import { createHash } from "node:crypto";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { makeSurvey, writeSurvey } from "../../../abroad/index.js";

/** A sound reach over blocks, to `folder`. */
export function writeReach(folder: string, seed: number, length_m = 80): void {
  const made = makeSurvey({
    ...{ seed, ground: "blocks", instrument: "three separations HCP", errors: "noise" },
    ...{ length_m, campaigns: 1, slopes: { bank: "broad" } },
  });
  writeSurvey(made, folder);
}

/** A reach whose walk has a row of another length. */
export async function writeSpoiled(folder: string, seed: number, length_m = 80): Promise<void> {
  writeReach(folder, seed, length_m);
  const walk = (await readdir(folder)).find((one) => /^walk/.test(one))!;
  const file = join(folder, walk);
  const lines = (await readFile(file, "utf8")).split("\n");
  await writeFile(file, lines.with(4, "2031-10-14,torn").join("\n"));
}

/** The SHA-256 of every Parquet file under an inventory's `tables`, by path. */
export async function parquetHashes(out: string): Promise<Record<string, string>> {
  const all = await readdir(join(out, "tables"), { recursive: true });
  const names = all.filter((name) => name.endsWith(".parquet")).sort();
  const hashes = names.map(async (name) => {
    const bytes = await readFile(join(out, "tables", name));
    return [name, createHash("sha256").update(bytes).digest("hex")] as const;
  });
  return Object.fromEntries(await Promise.all(hashes));
}

/** Kills the first process that works on a reach while a run goes on; throws where it ends without. */
export async function killJob(reach: string, run: Promise<unknown>): Promise<void> {
  let goesOn = true;
  const ended = () => {
    goesOn = false;
  };
  run.then(ended, ended);
  while (goesOn) {
    for (const pid of await readdir("/proc")) {
      const words = await readFile(`/proc/${pid}/cmdline`, "utf8").catch(() => "");
      const [program = "", ...rest] = words.split("\0");
      if (!/node$/.test(program) || !rest.includes("inventory-reach")) continue;
      if (rest[rest.indexOf("--reach") + 1] !== reach) continue;
      process.kill(Number(pid), "SIGKILL");
      return;
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  throw new Error(`the run ended before a process worked on ${reach}`);
}
