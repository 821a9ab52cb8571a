import { readFile, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { renderAppendix } from "../../lib/index.js";
import type { Notebook } from "../notebook/notebook.js";
import { notebookText } from "../notebook/notebook-text.js";
import type { Parameters } from "../notebook/parameters.js";
import { parseNotebook } from "../notebook/read-notebook.js";
import { runNotebook } from "../notebook/run-notebook.js";
import { refuseFaulty } from "./check.js";
import { closingWords } from "./closing-words.js";
import { throwIfFailed } from "./failed-cell.js";
import { InputFault } from "./failure.js";
import { withoutPaths } from "./hide-paths.js";
import { packagedNotebook, packageFolder, versions } from "./package.js";
import { progressOn } from "./progress.js";
import { notebookProvenance } from "./provenance.js";
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

/** What the notebook itself hands over into its `outputFolder`. */
const handedOver = ["findings.json", "accounting.csv", "provenance.json"] as const;

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
  await fillWhole(out, (unfinished) =>
    fillAppendix({ survey: resolve(folder), source, set, out, unfinished, signal: options.signal }),
  );
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

interface Source {
  readonly file: string;
  readonly text: string;
  readonly notebook: Notebook;
}

async function readSource(file: string): Promise<Source> {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw new InputFault([`${file}: cannot be read (${error.code ?? error.message})`]);
  });
  return { file: resolve(file), text, notebook: parseNotebook(text, file) };
}

interface Task {
  readonly survey: string;
  readonly source: Source;
  readonly set: Parameters;
  readonly out: string;
  readonly unfinished: string;
  readonly signal: AbortSignal;
}

async function fillAppendix(task: Task): Promise<void> {
  const { source, unfinished } = task;
  const run = await runNotebook({
    notebook: source.notebook,
    folder: dirname(source.file),
    set: { ...task.set, surveyFolder: task.survey, outputFolder: unfinished },
    onProgress: progressOn(process.stderr, source.notebook),
    signal: task.signal,
  });
  throwIfFailed(run, basename(source.file));
  await completeProvenance(task);
  const shown = withoutPaths(run.notebook, standsFor(task));
  await writeFile(join(unfinished, "appendix.ipynb"), notebookText(shown));
  await writeFile(join(unfinished, "appendix.html"), html(shown));
}

// The stored notebook tells the survey by name, and lies in the output folder itself.
function standsFor({ survey, unfinished, source }: Task) {
  return [
    [survey, basename(survey)],
    [unfinished, "."],
    [dirname(source.file), "."],
    [packageFolder.replace(/\/$/, ""), "banquette"],
  ] as const;
}

async function completeProvenance({ unfinished, source }: Task): Promise<void> {
  const texts = await Promise.all(
    handedOver.map((name) => readFile(join(unfinished, name), "utf8").catch(() => null)),
  );
  const missing = handedOver.filter((_, at) => texts[at] === null);
  if (missing.length > 0) {
    throw new InputFault([
      `${basename(source.file)}: must hand over ${handedOver.join(", ")} into outputFolder, ` +
        `${missing.join(" and ")} not written`,
    ]);
  }
  const file = join(unfinished, "provenance.json");
  const known = JSON.parse(await readFile(file, "utf8")) as Record<string, unknown>;
  const described = { name: basename(source.file), text: source.text };
  const added = notebookProvenance(described, source.notebook, versions());
  await writeFile(file, `${JSON.stringify({ ...known, ...added }, null, 2)}\n`);
}

// The notebook's own title where its metadata carry one; its first heading otherwise.
function html(notebook: Notebook): string {
  const { title } = notebook.metadata;
  return renderAppendix(notebook, typeof title === "string" ? { title } : {});
}
