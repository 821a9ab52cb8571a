import { readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { refuseFaulty } from "./check.js";
import { closingWords } from "./closing-words.js";
import { fillAppendix, readSource } from "./fill-appendix.js";
import { packagedNotebook } from "./package.js";
import { setValues } from "./set-values.js";
import { startNotebook } from "./start-notebook.js";
import { fillWhole } from "./unfinished-folder.js";

export interface AppendixCommandOptions {
  /** The folder to write into. */
  readonly out: string;
  /** The notebook to run; where undefined the survey's own, else the packaged one. */
  readonly notebook: string | undefined;
  /** `name=value` words for the notebook's parameters. */
  readonly set: readonly string[];
  readonly signal: AbortSignal;
}

/**
 * `banquette appendix`: runs the appendix notebook on a survey that `check` accepts, and writes the
 * outputs into one folder when all of them are there.
 */
export async function appendixCommand(
  folder: string,
  options: AppendixCommandOptions,
): Promise<void> {
  const set = setValues(options.set);
  await refuseFaulty(folder);
  const source = await readSource(
    options.notebook ?? (await ownNotebook(folder)) ?? packagedNotebook,
  );
  const out = resolve(options.out);
  const survey = resolve(folder);
  const task = { survey, surveyName: basename(survey), source, set, signal: options.signal };
  await fillWhole(out, (unfinished) => fillAppendix({ ...task, unfinished }));
  process.stdout.write(`${await closingWords(out, options.out)}\n`);
}

/** The notebook that `new` wrote into the survey, where it hands findings over; else undefined. */
async function ownNotebook(folder: string): Promise<string | undefined> {
  const file = join(folder, startNotebook);
  const text = await readFile(file, "utf8").catch(() => "");
  if (text === "") return undefined;
  if (/\bhandOver\(/.test(text)) return file;
  process.stderr.write(
    `${startNotebook} hands no findings over: the notebook that comes with the tool is run instead\n`,
  );
  return undefined;
}
