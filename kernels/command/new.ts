import { copyFile, readdir, readFile, writeFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { notebookText } from "../notebook/notebook-text.js";
import {
  assembled,
  type CatalogueEntry,
  catalogueFolder,
  defaultSteps,
  readCatalogue,
  withNeeded,
} from "./catalogue.js";
import { InputFault, UsageFault } from "./failure.js";
import type { ImportOptions } from "./import/import-options.js";
import { newFrom } from "./import/new-from.js";
import { packageFolder } from "./package.js";
import { startNotebook } from "./start-notebook.js";
import { fillWhole } from "./unfinished-folder.js";

export interface NewCommandOptions {
  /** Raw files to make the survey of; without them it is one to fill in. */
  readonly imported: ImportOptions;
  /** Names of the catalogue between commas; the whole way to seepage where undefined. */
  readonly steps: string | undefined;
  /** Only lists the catalogue. */
  readonly cells: boolean;
}

const templateFolder = join(packageFolder, "notebooks", "new-survey");

/** `banquette new`: a survey folder to fill in, and a notebook to start from. */
export async function newCommand(
  folder: string | undefined,
  options: NewCommandOptions,
): Promise<void> {
  const catalogue = await readCatalogue();
  if (options.cells) {
    process.stdout.write(catalogueText(catalogue));
    return;
  }
  if (folder === undefined) throw new UsageFault("missing required argument 'FOLDER'");
  const asked = options.steps?.split(",").map((name) => name.trim()) ?? defaultSteps;
  const entries = withNeeded(catalogue, asked);
  const out = resolve(folder);
  await refuseFilled(out, folder);
  if (options.imported.from.length > 0) {
    await newFrom(folder, options.imported, (unfinished) => writeNotebook(unfinished, entries));
    return;
  }
  refuseAnswers(options.imported);
  await fillWhole(out, (unfinished) => fillSurvey(unfinished, basename(out), entries));
  process.stdout.write(newText(folder, entries, asked));
}

/** Answers are about files: without any they would be lost without a word. */
function refuseAnswers({ from: _, answer, ...rest }: ImportOptions): void {
  const given = Object.entries(rest).filter(([, value]) => value !== undefined);
  const names = [...given.map(([name]) => name), ...(answer.length > 0 ? ["answer"] : [])];
  if (names.length === 0) return;
  throw new UsageFault(
    `--${names.join(", --")}: must come with --from, the files that it is about`,
  );
}

async function refuseFilled(out: string, folder: string): Promise<void> {
  let names: readonly string[];
  try {
    names = await readdir(out);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return;
    throw new InputFault([`${folder}: must be an empty folder or not there yet (${code})`]);
  }
  if (names.length === 0) return;
  const shown = names.slice(0, 3).join(", ") + (names.length > 3 ? ", …" : "");
  throw new InputFault([`${folder}: must be an empty folder or not there yet, holds ${shown}`]);
}

async function fillSurvey(
  folder: string,
  name: string,
  entries: readonly CatalogueEntry[],
): Promise<void> {
  for (const file of await readdir(templateFolder)) {
    await copyFile(join(templateFolder, file), join(folder, file));
  }
  await nameSurvey(join(folder, "datapackage.json"), name);
  await writeNotebook(folder, entries);
}

async function writeNotebook(folder: string, entries: readonly CatalogueEntry[]): Promise<void> {
  const title =
    "# Interpretation\n\nEvery figure stands beside the reasoning, the options and the uncertainty " +
    "that made it.\nChange the decisions below to argue with them, and write your own reason as " +
    "`because` in place of what\nthe tool `proposed`. " +
    (entries.some(({ name }) => name === "findings")
      ? "`banquette appendix .` runs this notebook and makes the appendix of this survey."
      : "`banquette appendix .` runs the notebook that comes with the tool: this one hands no findings over.");
  await writeFile(join(folder, startNotebook), notebookText(assembled(entries, title)));
}

// Data Package v1: a name is of lower-case letters, digits, dots, dashes and underscores.
async function nameSurvey(file: string, name: string): Promise<void> {
  if (!/^[a-z0-9._-]+$/.test(name)) return;
  const text = await readFile(file, "utf8");
  await writeFile(file, text.replace('"name": "survey"', `"name": ${JSON.stringify(name)}`));
}

function newText(
  folder: string,
  entries: readonly CatalogueEntry[],
  asked: readonly string[],
): string {
  const names = entries.map(({ name }) => name);
  const added = names.filter((name) => !asked.includes(name));
  const also = added.length === 0 ? "" : ` (${added.join(", ")} added: the others work on it)`;
  return [
    `A survey to fill in is in ${folder}. README.txt tells the rules.`,
    `${startNotebook} holds ${names.join(", ")}${also}.`,
    `Next: fill in, then "banquette check ${folder}", which names what is still to fill in.`,
    "",
  ].join("\n");
}

function catalogueText(catalogue: readonly CatalogueEntry[]): string {
  const width = Math.max(...catalogue.map(({ name }) => name.length));
  const lines = catalogue.map(({ name, about }) => `${name.padEnd(width)}  ${about}`);
  return `${lines.join("\n")}\n\nEach is a notebook of its own in ${catalogueFolder}\n`;
}
