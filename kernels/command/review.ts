import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import {
  type AppendixFiles,
  claimsText,
  comparedText,
  findingsIn,
  type Review,
  type RunRecord,
  renderAppendixPdf,
  reviewAppendix,
  reviewHtml,
  reviewParts,
  secondBlocks,
  secondText,
  sheetText,
} from "../../lib/index.js";
import { NotebookFault } from "../notebook/notebook-fault.js";
import { packagesFound } from "../notebook/notebook-packages.js";
import { storedOrder } from "../notebook/stored-order.js";
import { refuseFaulty } from "./check.js";
import { failureOf, InputFault } from "./failure.js";
import { documentOf, fillAppendix, readSource, type Source } from "./fill-appendix.js";
import { versions } from "./package.js";
import { findingsBeside, sheetIn } from "./review-sheet.js";
import { findSurvey, hashesOf, storedParameters } from "./reviewed-survey.js";
import { signFolder } from "./sign.js";
import { terminalText } from "./terminal-text.js";

export interface ReviewCommandOptions {
  /** The survey folder; where undefined, that of the name which the appendix gives. */
  readonly survey: string | undefined;
  /** A second interpreter's blocks, CSV. */
  readonly blocks: string | undefined;
  /** A reviewer's sheet; it is written where it is not there. */
  readonly sheet: string | undefined;
  /** Another appendix of the bank. */
  readonly beside: string | undefined;
  /** The user's SSH key to sign with. */
  readonly sign: string | undefined;
  /** Numbers agree within this share of themselves. */
  readonly tolerance: number;
  readonly signal: AbortSignal;
}

/** Differences told on standard error; all of them stand in the files. */
const toldAtMost = 40;

/**
 * `banquette review`: executes a stored appendix again from the raw data, compares, and writes
 * review.html and review.json beside it. Throws where anything differs. A reviewer's sheet that is
 * not there yet is written, and nothing is executed.
 */
export async function reviewCommand(folder: string, options: ReviewCommandOptions): Promise<void> {
  const out = resolve(folder);
  const stored = await storedFiles(out, folder);
  const source = await readSource(join(out, "appendix.ipynb"));
  const second = options.blocks === undefined ? null : await readSecond(options.blocks);
  const beside = options.beside === undefined ? null : await findingsBeside(options.beside);
  const sheet =
    options.sheet === undefined ? null : await sheetIn(options.sheet, findingsIn(stored));
  if (options.sheet !== undefined && sheet === null) return tellOfSheet(options.sheet);
  const set = storedParameters(source.notebook);
  const surveyName = String(set.surveyFolder ?? "");
  const survey =
    options.survey === undefined ? findSurvey(surveyName, out) : resolve(options.survey);
  const record = storedRecord(stored);
  const task = { survey, surveyName, source, set, record, signal: options.signal };
  const { again, failed } = await executedAgain(stored, task);
  const review = reviewAppendix(
    {
      stored,
      again,
      failed,
      inputsNow: await hashesOf(survey, inputPaths(stored, again)),
      versionsNow: versions(packagesFound(source.notebook, out)),
      order: storedOrder(source.notebook),
      secondBlocks: second,
      ...{ sheet, beside },
    },
    { tolerance: options.tolerance },
  );
  await writeFile(join(out, "review.json"), `${JSON.stringify(review, null, 2)}\n`);
  await writeFile(join(out, "review.html"), await reviewHtml(review, { name: basename(out) }));
  const signs = options.sign !== undefined && review.agrees;
  const signed = signs ? await signFolder(out, options.sign ?? "") : [];
  if (options.sign !== undefined && !review.agrees) {
    process.stdout.write("Not signed: what differs is to be settled first.\n");
  }
  tell(review, [folder, "review.html", "review.json", ...signed]);
}

function tellOfSheet(file: string): void {
  const words =
    `Written: ${file}, a row a claim. Fill in verdict (agree, disagree, unsure), remark and ` +
    "reviewer, then review again with it.";
  process.stdout.write(`${terminalText(words)}\n`);
}

function tell(review: Review, [folder, ...names]: readonly string[]): void {
  const written = `Written to ${folder}: ${names.join(", ")}`;
  const { sheet, beside } = review;
  const words = [
    comparedText(review),
    secondText(review),
    sheet === null ? "" : sheetText(sheet),
    beside === null ? "" : claimsText(beside),
    written,
  ].filter((line) => line !== "");
  const lines = reviewParts(review).flatMap((part) => part.lines);
  if (review.agrees) words.unshift("Executed again, it gives what it holds.");
  process.stdout.write(`${terminalText(words.join("\n"))}\n`);
  if (review.agrees) return;
  const more = lines.length - toldAtMost;
  throw new InputFault([
    ...lines.slice(0, toldAtMost),
    ...(more > 0 ? [`and ${more} more, in review.html`] : []),
  ]);
}

async function storedFiles(out: string, shown: string): Promise<AppendixFiles> {
  const names = await readdir(out).catch((error: NodeJS.ErrnoException) => {
    throw new InputFault([`${shown}: cannot be read (${error.code ?? error.message})`]);
  });
  const needed = ["appendix.ipynb", "findings.json", "provenance.json"];
  const missing = needed.filter((name) => !names.includes(name));
  if (missing.length > 0) {
    throw new InputFault([`${shown}: is no appendix, ${missing.join(" and ")} not there`]);
  }
  return filesIn(out);
}

async function filesIn(folder: string): Promise<AppendixFiles> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isFile()).map((entry) => entry.name);
  const files = new Map<string, Uint8Array>();
  for (const name of names.sort()) files.set(name, await readFile(join(folder, name)));
  return files;
}

function storedRecord(files: AppendixFiles): RunRecord {
  return JSON.parse(new TextDecoder().decode(files.get("provenance.json"))) as RunRecord;
}

interface Executed {
  readonly again: AppendixFiles | null;
  readonly failed: string | null;
}

interface Task {
  readonly survey: string;
  readonly surveyName: string;
  readonly source: Source;
  readonly set: Readonly<Record<string, unknown>>;
  /** What the stored appendix was made from. */
  readonly record: RunRecord;
  readonly signal: AbortSignal;
}

/** What the stored notebook gives now. A survey or a cell that fails is part of the review. */
async function executedAgain(stored: AppendixFiles, task: Task): Promise<Executed> {
  const unfinished = await mkdtemp(join(tmpdir(), "banquette-review-"));
  try {
    await refuseFaulty(task.survey);
    const { notebook: origin } = task.record;
    await fillAppendix({ ...task, ...(origin && { origin }), unfinished });
    return { again: await withStoredPaper(await filesIn(unfinished), stored, task), failed: null };
  } catch (error) {
    if (!(error instanceof InputFault || error instanceof NotebookFault)) throw error;
    const [first = ""] = failureOf(error, false).lines;
    return { again: null, failed: first.replace(/^banquette: /, "it cannot be executed again: ") };
  } finally {
    await rm(unfinished, { recursive: true, force: true });
  }
}

const paper = "appendix.pdf";

/**
 * The files, with the stored paper as it is where it is what the stored notebook and provenance
 * give: what differs in those is named by its own part.
 */
async function withStoredPaper(
  again: AppendixFiles,
  stored: AppendixFiles,
  { source, record }: Task,
): Promise<AppendixFiles> {
  const [was, is] = [stored.get(paper), again.get(paper)];
  if (was === undefined || is === undefined || Buffer.compare(was, is) === 0) return again;
  const { pdf } = await renderAppendixPdf(documentOf(source.notebook, record));
  return pdf !== null && Buffer.compare(pdf, was) === 0 ? new Map([...again, [paper, was]]) : again;
}

/** Inputs of the stored run and, where it could be executed, of this one. */
function inputPaths(stored: AppendixFiles, again: AppendixFiles | null): readonly string[] {
  const paths = [stored, ...(again === null ? [] : [again])].flatMap((files) =>
    (storedRecord(files).inputs ?? []).map(({ path }) => path),
  );
  return [...new Set(paths)];
}

async function readSecond(file: string) {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw new InputFault([`${file}: cannot be read (${error.code ?? error.message})`]);
  });
  try {
    return secondBlocks(text);
  } catch (error) {
    throw new InputFault([`${file}: ${(error as Error).message}`]);
  }
}
