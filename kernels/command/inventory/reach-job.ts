import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import {
  decide,
  faultText,
  interpretReach,
  type ReachOutcome,
  removeReachTables,
  StepError,
  writeReachTables,
} from "../../../lib/index.js";
import { refuseFaulty } from "../check.js";
import { InputFault } from "../failure.js";
import type { InventoryDecision } from "./decisions.js";

export interface ReachJobOptions {
  readonly reach: string;
  /** The inventory's output folder. */
  readonly out: string;
  /** File of the decisions that hold for every reach; none where undefined. */
  readonly decisions?: string | undefined;
}

/**
 * One job of an inventory: interprets a reach and writes its findings, its record and its part of
 * the tables; `outcome.json` last, in one piece. A survey that is refused is an outcome too, with
 * every fault: to try it again would not mend it. Anything else that goes wrong ends the job.
 */
export async function reachJob(folder: string, options: ReachJobOptions): Promise<void> {
  const { reach, out } = options;
  const own = join(out, "reaches", reach);
  await rm(own, { recursive: true, force: true });
  await mkdir(own, { recursive: true });
  await removeReachTables(out, reach);
  const faults = await refusal(() => interpreted(folder, options));
  const state = faults === null ? "interpreted" : "refused";
  const outcome: ReachOutcome = { reach, state, faults: faults ?? [] };
  const unfinished = join(own, ".outcome.json");
  await writeFile(unfinished, `${JSON.stringify(outcome, null, 2)}\n`);
  await rename(unfinished, join(own, "outcome.json"));
}

async function interpreted(folder: string, { reach, out, decisions }: ReachJobOptions) {
  await refuseFaulty(folder);
  const record = await interpretReach(reach, folder, await decided(decisions));
  const own = join(out, "reaches", reach);
  await writeFile(join(own, "findings.json"), `${JSON.stringify(record.findings, null, 2)}\n`);
  await writeFile(join(own, "record.json"), `${JSON.stringify(record)}\n`);
  await writeReachTables(out, record);
}

async function decided(file: string | undefined) {
  if (file === undefined) return [];
  const all = JSON.parse(await readFile(file, "utf8")) as readonly InventoryDecision[];
  return all.map(({ name, value, because }) => decide(name, value, { because }));
}

/** Every fault of a survey that is refused; null where the work came to its end. */
async function refusal(work: () => Promise<void>): Promise<readonly string[] | null> {
  try {
    await work();
    return null;
  } catch (error) {
    if (error instanceof InputFault) return error.faults;
    if (error instanceof StepError) {
      return error.faults.map((fault) => faultText(error.step, fault));
    }
    throw error;
  }
}
