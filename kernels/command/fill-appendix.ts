import { readFile, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import {
  type AppendixDocument,
  appendixDocument,
  type RunRecord,
  renderAppendix,
  renderAppendixPdf,
} from "../../lib/index.js";
import type { Notebook } from "../notebook/notebook.js";
import { packagesFound } from "../notebook/notebook-packages.js";
import { notebookText } from "../notebook/notebook-text.js";
import type { Parameters } from "../notebook/parameters.js";
import { parseNotebook } from "../notebook/read-notebook.js";
import { runNotebook } from "../notebook/run-notebook.js";
import { throwIfFailed } from "./failed-cell.js";
import { InputFault } from "./failure.js";
import { withoutPaths } from "./hide-paths.js";
import { packageFolder, versions } from "./package.js";
import { progressOn } from "./progress.js";
import { type NotebookProvenance, notebookProvenance } from "./provenance.js";

/** A notebook file. */
export interface Source {
  readonly file: string;
  readonly text: string;
  readonly notebook: Notebook;
}

export async function readSource(file: string): Promise<Source> {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw new InputFault([`${file}: cannot be read (${error.code ?? error.message})`]);
  });
  return { file: resolve(file), text, notebook: parseNotebook(text, file) };
}

export interface AppendixTask {
  /** The survey folder, absolute. */
  readonly survey: string;
  /** What stands for that folder's path in what is stored. */
  readonly surveyName: string;
  readonly source: Source;
  readonly set: Parameters;
  /** The folder to fill, absolute. */
  readonly unfinished: string;
  readonly signal: AbortSignal;
  /** The notebook that the source was executed from; where left out, the source itself. */
  readonly origin?: NotebookProvenance["notebook"];
  /** Given the notebook of a run that stopped at a cell, as far as it ran. */
  readonly keepFailed?: (notebook: Notebook) => Promise<void>;
}

/** What the notebook itself hands over into its `outputFolder`. */
const handedOver = ["findings.json", "accounting.csv", "provenance.json"] as const;

/** Runs the notebook on the survey and fills the folder with every output of an appendix. */
export async function fillAppendix(task: AppendixTask): Promise<void> {
  const { source, unfinished } = task;
  const run = await runNotebook({
    notebook: source.notebook,
    folder: dirname(source.file),
    set: { ...task.set, surveyFolder: task.survey, outputFolder: unfinished },
    onProgress: progressOn(process.stderr, source.notebook),
    signal: task.signal,
  });
  const shown = withoutPaths(run.notebook, standsFor(task));
  if (run.failed !== null) await task.keepFailed?.(shown);
  throwIfFailed(run, basename(source.file));
  const record = await completeProvenance(task);
  await writeFile(join(unfinished, "appendix.ipynb"), notebookText(shown));
  const document = documentOf(shown, record);
  await writeFile(join(unfinished, "appendix.html"), renderAppendix(document));
  const { pdf, missing } = await renderAppendixPdf(document);
  if (pdf !== null) await writeFile(join(unfinished, "appendix.pdf"), pdf);
  else process.stderr.write(`no appendix.pdf was made, because ${missing}\n`);
}

/** What page and paper are made of, under the notebook's own title where its metadata carry one. */
export function documentOf(notebook: Notebook, provenance: RunRecord): AppendixDocument {
  const { title } = notebook.metadata;
  const named = typeof title === "string" ? { title } : {};
  return appendixDocument(notebook, { ...named, provenance });
}

// The stored notebook tells the survey by name, and lies in the output folder itself.
function standsFor({ survey, surveyName, unfinished, source }: AppendixTask) {
  return [
    [survey, surveyName],
    [unfinished, "."],
    [dirname(source.file), "."],
    [packageFolder.replace(/\/$/, ""), "banquette"],
  ] as const;
}

async function completeProvenance({
  unfinished,
  source,
  origin,
}: AppendixTask): Promise<RunRecord> {
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
  const packages = packagesFound(source.notebook, dirname(source.file));
  const added = notebookProvenance(described, source.notebook, versions(packages));
  const record = { ...known, ...added, ...(origin && { notebook: origin }) };
  await writeFile(file, `${JSON.stringify(record, null, 2)}\n`);
  return record;
}
