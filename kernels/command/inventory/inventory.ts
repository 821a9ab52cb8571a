import { mkdir, readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import {
  faultLine,
  type GatheredInventory,
  gatherInventory,
  type HoleBudget,
  type PooledClasses,
  type Reach,
  readReaches,
} from "../../../lib/index.js";
import { InputFault } from "../failure.js";
import { readDecisions } from "./decisions.js";
import { failedReaches, inventoryWords } from "./inventory-words.js";
import { reportInventory } from "./report.js";
import { writeRunFile } from "./run-file.js";
import { alone } from "./run-lock.js";
import { type EngineOptions, needSnakemake, runReaches } from "./snakemake.js";

export interface InventoryCommandOptions extends EngineOptions {
  /** The folder to write into. */
  readonly out: string;
  /** Boreholes to propose over all reaches. */
  readonly budget: HoleBudget;
  /** The report to run; the packaged notebook where undefined. */
  readonly notebook: string | undefined;
  readonly signal: AbortSignal;
}

/**
 * `banquette inventory`: interprets every reach of a folder as one run of Snakemake, gathers what
 * they say, and tells which reaches came to nothing and why. A reach that is up to date is not done
 * again.
 */
export async function inventoryCommand(
  folder: string,
  options: InventoryCommandOptions,
): Promise<void> {
  const { reaches, faults } = await readReaches(folder).catch(unreadable(folder));
  if (faults.length > 0) throw new InputFault(faults.map(faultLine));
  const decisions = await readDecisions(folder);
  const known = await knownClasses(folder);
  await needSnakemake();
  const out = resolve(options.out);
  await mkdir(out, { recursive: true });
  const gathered = await alone(out, async () => {
    await writeRunFile({ folder: resolve(folder), out, reaches, decisions });
    await runReaches({ ...options, out, progress: tell });
    const { budget, notebook, signal } = options;
    const lastWords = (one: Reach) => logEnd(out, one);
    const found = await gatherInventory(out, reaches, { budget, known, lastWords });
    await reportInventory({ out, notebook, signal });
    return found;
  });
  report(gathered, options.out);
}

function report(gathered: GatheredInventory, out: string): void {
  process.stdout.write(`${inventoryWords(gathered, out)}\n`);
  const failed = failedReaches(gathered.reaches);
  if (failed.length > 0) throw new InputFault(failed);
}

function unreadable(folder: string) {
  return (error: NodeJS.ErrnoException): never => {
    throw new InputFault([`${folder}: cannot be read (${error.code ?? error.message})`]);
  };
}

function tell(done: number, of: number): void {
  // The last step is the rule that asks for all reaches.
  if (done < of) process.stderr.write(`reach ${done} of ${of - 1}\n`);
}

type Known = Pick<PooledClasses, "depths_m" | "classes">;

/** The classes of an earlier run that lie in the inventory's own folder: their names are kept. */
async function knownClasses(folder: string): Promise<Known | null> {
  const file = join(folder, "classes.json");
  const text = await readFile(file, "utf8").catch(() => null);
  if (text === null) return null;
  try {
    const known = JSON.parse(text) as Known;
    if (Array.isArray(known.classes) && Array.isArray(known.depths_m)) return known;
  } catch {
    // Refused below.
  }
  throw new InputFault(["classes.json: must be the classes.json that an inventory wrote"]);
}

const LAST_LINES = 5;

async function logEnd(out: string, { reach }: Reach): Promise<readonly string[]> {
  const text = await readFile(join(out, "logs", `${reach}.log`), "utf8").catch(() => "");
  const lines = text.trimEnd().split("\n").filter(Boolean).slice(-LAST_LINES);
  return lines.length > 0 ? lines : ["its job ended without a word; snakemake.log has the rest"];
}
