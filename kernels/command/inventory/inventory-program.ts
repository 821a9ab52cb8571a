import { availableParallelism } from "node:os";
import { type Command, InvalidArgumentError } from "commander";
import { inventoryCommand } from "./inventory.js";
import { type ReachJobOptions, reachJob } from "./reach-job.js";

interface InventoryWords {
  readonly out: string;
  readonly jobs: number;
  readonly profile?: string;
  readonly executor?: string;
  readonly holes?: number;
  readonly metres?: number;
  readonly notebook?: string;
}

const defaultHoles = 10;

/** The words of `inventory`, and of its jobs. */
export function addInventory(main: Command, signal: AbortSignal): void {
  main
    .command("inventory")
    .description("interpret many survey folders as one run of Snakemake; results as Parquet")
    .argument("<FOLDER>", "the folder of the reaches (holds reaches.csv, or survey folders)")
    .argument("[words...]", "after --: further words for Snakemake, as they are")
    .option("--out <DIR>", "the folder to write into; a run that stopped goes on", "inventory-out")
    .option("--jobs <N>", "jobs at a time", wholeNumber, availableParallelism())
    .option("--profile <NAME>", "a Snakemake profile, such as one for a cluster")
    .option("--executor <NAME>", "a Snakemake executor, such as slurm or kubernetes")
    .option(
      "--holes <N>",
      `boreholes to propose over all reaches (default: ${defaultHoles})`,
      wholeNumber,
    )
    .option("--metres <M>", "metres to drill over all reaches", positive)
    .option("--notebook <FILE>", "a report to run in place of the packaged one")
    .action((folder: string, words: string[], given: InventoryWords) => {
      const { out, jobs, profile, executor, notebook, holes = null, metres = null } = given;
      const open = holes === null && metres === null;
      const budget = { holes: open ? defaultHoles : holes, metres };
      const engine = { jobs, profile, executor, words };
      return inventoryCommand(folder, { ...engine, out, budget, notebook, signal });
    });
  main
    .command("inventory-reach", { hidden: true })
    .description("one job of an inventory")
    .argument("<FOLDER>", "the reach's survey folder")
    .requiredOption("--reach <NAME>", "the reach's name")
    .requiredOption("--out <DIR>", "the inventory's output folder")
    .option("--decisions <FILE>", "decisions that hold for every reach")
    .action((folder: string, options: ReachJobOptions) => reachJob(folder, options));
}

function wholeNumber(text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 1) return value;
  throw new InvalidArgumentError("It must be a whole number from 1.");
}

function positive(text: string): number {
  const value = Number(text);
  if (value > 0 && value < Infinity) return value;
  throw new InvalidArgumentError("It must be a number above 0.");
}
