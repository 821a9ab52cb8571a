import { Command, CommanderError, InvalidArgumentError } from "commander";
import { reviewTolerance } from "../../lib/index.js";
import { appendixCommand } from "./appendix.js";
import { checkCommand } from "./check.js";
import { addCompletion } from "./completion/completion.js";
import { exitCodes, failureOf } from "./failure.js";
import { addCommand } from "./import/add.js";
import type { ImportOptions } from "./import/import-options.js";
import { addInventory } from "./inventory/inventory-program.js";
import {
  installKernelCommand,
  type KernelInstallOptions,
  type KernelPlace,
  uninstallKernelCommand,
} from "./kernel.js";
import { kernelHelp } from "./kernel-help.js";
import { defaultDisplayName, defaultKernelName } from "./kernel-spec.js";
import { newCommand } from "./new.js";
import { packageVersion } from "./package.js";
import { reviewCommand } from "./review.js";
import { runNotebookCommand } from "./run.js";
import { watchAppendix } from "./watch/watch-appendix.js";

interface Trace {
  readonly trace?: boolean;
}

interface ImportWords extends Trace {
  readonly from?: string[];
  readonly answers?: string;
  readonly answer?: string[];
  readonly timezone?: string;
  readonly crs?: string;
  readonly role?: string;
  readonly campaign?: string;
  readonly line?: string;
}

interface NewWords extends ImportWords {
  readonly steps?: string;
  readonly cells?: boolean;
}

interface CheckWords extends Trace {
  readonly html?: string;
  readonly json?: boolean;
}

interface RunWords extends Trace {
  readonly out?: string;
  readonly set?: string[];
  readonly timing?: boolean;
}

interface AppendixWords extends Trace {
  readonly out: string;
  readonly notebook?: string;
  readonly set?: string[];
  readonly watch?: boolean;
}

/** Runs one command line (without the program's name) and gives its exit code. */
export async function runCommand(words: readonly string[]): Promise<number> {
  const interrupt = new AbortController();
  const onSignal = () => interrupt.abort();
  process.once("SIGINT", onSignal);
  process.once("SIGTERM", onSignal);
  try {
    await program(interrupt.signal).parseAsync([...words], { from: "user" });
    return exitCodes.well;
  } catch (error) {
    if (error instanceof CommanderError) return commanderCode(error);
    const { lines, exitCode } = failureOf(error, words.includes("--trace"));
    if (lines.length > 0) process.stderr.write(`${lines.join("\n")}\n`);
    return exitCode;
  } finally {
    process.off("SIGINT", onSignal);
    process.off("SIGTERM", onSignal);
  }
}

const helpAskedFor = ["commander.helpDisplayed", "commander.version"];

function commanderCode(error: CommanderError): number {
  return helpAskedFor.includes(error.code) ? exitCodes.well : exitCodes.usage;
}

function program(signal: AbortSignal): Command {
  const main = new Command("banquette")
    .description("From a survey folder of a flood embankment to a technical appendix.")
    .version(packageVersion(), "--version", "show the version")
    .helpOption("-h, --help", "show this help")
    .helpCommand(false)
    .exitOverride()
    .configureOutput({
      outputError: (text, write) => write(text.replace(/^error: /, "banquette: ")),
    });
  addCheck(main);
  addRun(main, signal);
  addAppendix(main, signal);
  addReview(main, signal);
  addNew(main);
  addAdd(main);
  addInventory(main, signal);
  addKernel(main);
  addCompletion(main);
  addTraceAndHelp(main);
  return main;
}

function addTraceAndHelp(group: Command): void {
  for (const command of group.commands) {
    command.helpOption("-h, --help", "show this help");
    if (command.commands.length > 0) addTraceAndHelp(command.helpCommand(false));
    else command.option("--trace", "show the stack trace of a failure");
  }
}

function addCheck(main: Command): void {
  main
    .command("check")
    .description("report every fault of a survey folder and what each step has to work with")
    .argument("<FOLDER>", "the survey folder (holds datapackage.json)")
    .option("--html <FILE>", "write the whole check to FILE as a page, with figures")
    .option("--json", "print the check as JSON (banquette/check.schema.json) in place of text")
    .action((folder: string, { html, json = false }: CheckWords) =>
      checkCommand(folder, { html, json }),
    );
}

function addRun(main: Command, signal: AbortSignal): void {
  main
    .command("run")
    .description("run a notebook from top to bottom in a fresh kernel")
    .argument("<NOTEBOOK>", "the notebook (.ipynb)")
    .option("--out <FILE>", "write the executed notebook to FILE; without it nothing is written")
    .option(
      "--set <name=value...>",
      "give a parameter of the notebook another value (JSON or text)",
    )
    .option("--timing", "store when each cell began and ended in the executed notebook")
    .action((notebook: string, { out, set = [], timing = false }: RunWords) =>
      runNotebookCommand(notebook, { out, set, timing, signal }),
    );
}

function addAppendix(main: Command, signal: AbortSignal): void {
  main
    .command("appendix")
    .description("run the appendix notebook on a survey and write the appendix and its findings")
    .argument("<FOLDER>", "the survey folder (holds datapackage.json)")
    .option("--out <DIR>", "the folder to write into", "appendix-out")
    .option("--notebook <FILE>", "a notebook to run in place of the packaged one")
    .option("--set <name=value...>", "give a parameter of the notebook a value, such as author")
    .option("--watch", "stay, and run again when an input or the notebook changes; Ctrl-C ends it")
    .action((folder: string, { out, notebook, set = [], watch = false }: AppendixWords) => {
      const options = { out, notebook, set, signal };
      return watch ? watchAppendix(folder, options) : appendixCommand(folder, options);
    });
}

interface ReviewWords extends Trace {
  readonly survey?: string;
  readonly blocks?: string;
  readonly sheet?: string;
  readonly beside?: string;
  readonly sign?: string;
  readonly tolerance: number;
}

function addReview(main: Command, signal: AbortSignal): void {
  main
    .command("review")
    .description("execute an appendix again from the raw data and compare with what it holds")
    .argument("<DIR>", "the folder that appendix wrote")
    .option("--survey <FOLDER>", "the survey folder; by default that of the appendix, beside it")
    .option("--blocks <FILE>", "a second interpreter's blocks (CSV of from_m,to_m,class)")
    .option(
      "--sheet <FILE>",
      "a reviewer's sheet (CSV), written to be filled in where it is not there",
    )
    .option("--beside <DIR>", "another appendix of the bank, to be set beside claim by claim")
    .option("--sign <KEY>", "sign what agrees with your SSH key: SHA256SUMS and SHA256SUMS.sig")
    .option(
      "--tolerance <SHARE>",
      "numbers agree within this share of themselves",
      share,
      reviewTolerance,
    )
    .action((folder: string, words: ReviewWords) => {
      const { survey, blocks, sheet, beside, sign, tolerance } = words;
      return reviewCommand(folder, { survey, blocks, sheet, beside, sign, tolerance, signal });
    });
}

function share(text: string): number {
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (value >= 0 && value < 1) return value;
  throw new InvalidArgumentError("It must be a number from 0 to below 1.");
}

function addNew(main: Command): void {
  const command = main
    .command("new")
    .description(
      "write a survey folder, from raw files or to fill in, and a notebook to start from",
    )
    .argument("[FOLDER]", "the folder to write; it must be empty or not there yet")
    .option("--from <FILE...>", "raw text files of a logger, in any form, and a centreline")
    .option("--steps <names>", "the steps of the notebook, between commas; all by default")
    .option("--cells", "list the catalogue of steps and write nothing");
  addImportOptions(command).action((folder: string | undefined, words: NewWords) => {
    const { steps, cells = false } = words;
    return newCommand(folder, { steps, cells, imported: importOptions(words) });
  });
}

function addAdd(main: Command): void {
  const command = main
    .command("add")
    .description("add a campaign or a line to a survey folder, from raw files")
    .argument("<FOLDER>", "the survey folder (holds datapackage.json)")
    .requiredOption("--from <FILE...>", "raw text files of a logger, in any form");
  addImportOptions(command).action((folder: string, words: ImportWords) =>
    addCommand(folder, importOptions(words)),
  );
}

function addImportOptions(command: Command): Command {
  return command
    .option("--answers <FILE>", "answers to what the files do not tell")
    .option("--answer <question=answer...>", "single answers")
    .option("--timezone <ZONE>", "UTC, an offset such as +01:00, or an IANA time zone")
    .option("--crs <EPSG>", "the system of easting and northing")
    .option("--role <ROLE>", "what the files hold, such as readings or base-checks")
    .option("--campaign <LABEL>", "the campaign's label; by default the month of the first reading")
    .option("--line <NAME>", "the name of the walked line");
}

function importOptions(words: ImportWords): ImportOptions {
  const { from = [], answer = [], answers, timezone, crs, role, campaign, line } = words;
  return { from, answer, answers, timezone, crs, role, campaign, line };
}

function addKernel(main: Command): void {
  const kernel = main.command("kernel").description("register the kernel for Jupyter");
  kernel
    .helpCommand(false)
    .command("help")
    .description("say what a cell can do")
    .action(() => void process.stdout.write(kernelHelp));
  addPlace(kernel.command("install").description("register the kernel, without Python"))
    .option("--display-name <TEXT>", "the name that front ends show", defaultDisplayName)
    .option("--replace", "take the place of a kernel of another make under the same name")
    .action((options: Trace & KernelInstallOptions) => installKernelCommand(options));
  addPlace(kernel.command("uninstall").description("take the registration away")).action(
    (options: Trace & KernelPlace) => uninstallKernelCommand(options),
  );
}

function addPlace(command: Command): Command {
  return command
    .option("--user", "in the user's own Jupyter folder (the default)")
    .option("--prefix <DIR>", "in DIR/share/jupyter, for the Jupyter of an environment")
    .option("--name <NAME>", "the name by which Jupyter knows the kernel", defaultKernelName);
}
