import { createHash } from "node:crypto";
import { readdir, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import type { Reach } from "../../../lib/index.js";
import { packageFolder, packageVersion } from "../package.js";
import type { InventoryDecision } from "./decisions.js";

/** A job that ends badly is tried this many times more. */
const RETRIES = 2;

export interface RunFile {
  /** The inventory's folder. */
  readonly folder: string;
  readonly out: string;
  readonly reaches: readonly Reach[];
  readonly decisions: readonly InventoryDecision[];
}

/**
 * Writes what the rules go by: the reaches with every file of their surveys (one that changes has
 * its reach done again), the command of a job, and a stamp of version and decisions (another stamp
 * has every reach done again).
 */
export async function writeRunFile({ folder, out, reaches, decisions }: RunFile): Promise<void> {
  const entries = [];
  for (const { reach, folder: own } of reaches) {
    const survey = resolve(folder, own);
    entries.push({ reach, folder: survey, files: await filesIn(survey) });
  }
  const decided = JSON.stringify(decisions);
  const stamp = createHash("sha256").update(`${packageVersion()}\n${decided}`).digest("hex");
  const main = join(packageFolder, "dist", "kernels", "command", "main.js");
  const command = [process.execPath, main].map(shellQuoted).join(" ");
  const content = { reaches: entries, command, stamp, retries: RETRIES };
  await writeFile(join(out, "inventory-run.json"), `${JSON.stringify(content, null, 2)}\n`);
  await writeFile(join(out, "inventory-decisions.json"), `${decided}\n`);
}

/** Notebooks and what was made from a survey do not count as its data. */
async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const files: string[] = [];
  for (const entry of entries.sort((one, other) => (one.name < other.name ? -1 : 1))) {
    const { name } = entry;
    if (name.startsWith(".") || name.endsWith(".ipynb") || name.endsWith("-out")) continue;
    if (entry.isDirectory()) files.push(...(await filesIn(join(folder, name))));
    else if (entry.isFile()) files.push(join(folder, name));
  }
  return files;
}

const shellQuoted = (word: string) => `'${word.replaceAll("'", "'\\''")}'`;
