import { basename, resolve } from "node:path";
import type { Notebook } from "../notebook/notebook.js";
import { refuseFaulty } from "./check.js";
import { chosenNotebook } from "./chosen-notebook.js";
import { closingWords } from "./closing-words.js";
import { forgetFailedRun, keepFailedRun } from "./failed-run.js";
import { fillAppendix, readSource } from "./fill-appendix.js";
import { setValues } from "./set-values.js";
import { terminalText } from "./terminal-text.js";
import { fillWhole } from "./unfinished-folder.js";

export interface AppendixCommandOptions {
  /** The folder to write into. */
  readonly out: string;
  /** The notebook to run; where undefined the one in the survey's folder, else the packaged one. */
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
  const { file, why } = await chosenNotebook(folder, options.notebook);
  const source = await readSource(file);
  process.stderr.write(`${terminalText(`running ${why}`)}\n`);
  const out = resolve(options.out);
  const survey = resolve(folder);
  const keepFailed = (notebook: Notebook) => keepFailedRun(out, notebook);
  const task = {
    survey,
    surveyName: basename(survey),
    source,
    set,
    keepFailed,
    signal: options.signal,
  };
  await fillWhole(out, (unfinished) => fillAppendix({ ...task, unfinished }));
  await forgetFailedRun(out);
  process.stdout.write(`${terminalText(await closingWords(out, options.out))}\n`);
}
