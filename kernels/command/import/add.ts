import { existsSync } from "node:fs";
import { cp, mkdir, mkdtemp, readFile, rename, rm } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import {
  type Answers,
  checkSurvey,
  earlierAnswers,
  type FileRecord,
  faultLine,
  type ImportedSurvey,
  type ImportRecord,
  importSurvey,
  type KnownCampaign,
  type RawFile,
  type Settled,
  type SurveyCheck,
  settledLines,
} from "../../../lib/index.js";
import { InputFault } from "../failure.js";
import { answersOf, type ImportOptions } from "./import-options.js";
import { importText, nextText } from "./import-text.js";
import { readRawFiles } from "./read-raw-files.js";
import { settledImport } from "./settled-import.js";
import {
  answersFile,
  type FileToWrite,
  importedFiles,
  jsonText,
  recordFile,
  writeFiles,
} from "./written-import.js";

/** A survey folder that is there. */
interface Existing {
  readonly descriptor: { readonly resources: readonly Resource[] } & Record<string, unknown>;
  readonly record: ImportRecord;
  readonly check: SurveyCheck;
}

interface Resource {
  readonly name: string;
  readonly path: string;
  readonly campaign?: string;
  readonly instrument?: {
    readonly height_m: number;
    readonly channels: readonly {
      readonly field: string;
      readonly kind: string;
      readonly unit: string;
      readonly frequency_Hz: number;
      readonly separation_m: number;
      readonly orientation: string;
    }[];
  };
}

/**
 * `banquette add`: one more campaign or line into a survey folder, read as the files before. The
 * folder stays as it was where the files cannot be read or `check` finds a fault with them in it.
 */
export async function addCommand(folder: string, options: ImportOptions): Promise<void> {
  const existing = await readExisting(folder);
  const files = await readRawFiles(options.from);
  refuseKnown(files, existing);
  const settled = await settledImport({
    files,
    answers: await answersOf(options),
    answersFile: options.answers,
    target: { name: basename(resolve(folder)), earlier: earlierOf(existing), isThere: true },
    questionsFile: `${folder.replace(/[/\\]+$/, "")}.answers.txt`,
  });
  const names = new Set(existing.descriptor.resources.map(({ name }) => name));
  const into = { name: "", campaigns: campaignsOf(existing), names };
  const imported = importSurvey(settled.plan, into);
  refuseTaken(imported, existing);
  const all = filesToWrite({ files, imported, settled: settled.settled }, existing);
  const check = await addWhole(folder, all);
  const lines = importText(imported, { ...settled, isFromWalk: false });
  process.stdout.write(`${[...lines, ...nextText(folder, check)].join("\n")}\n`);
}

async function readExisting(folder: string): Promise<Existing> {
  const check = await checkSurvey(folder);
  if (check.faults.length > 0) throw new InputFault(check.faults.map(faultLine));
  const descriptor = JSON.parse(await readFile(join(folder, "datapackage.json"), "utf8"));
  const text = await readFile(join(folder, recordFile), "utf8").catch(() => null);
  const record: ImportRecord = text === null ? { files: [], settled: [] } : JSON.parse(text);
  const files = record.files.filter((file) => !isLeftOver(file, descriptor, folder));
  return { descriptor, record: { ...record, files }, check };
}

/** Of an `add` that was killed before its last file, the descriptor: to be added again. */
function isLeftOver(
  { written }: FileRecord,
  { resources }: Existing["descriptor"],
  folder: string,
): boolean {
  const isTable = written.every((path) => path.endsWith(".csv"));
  const isNamed = written.some((path) => resources.some((one) => one.path === path));
  return isTable && !isNamed && written.every((path) => existsSync(join(folder, path)));
}

/** Files of names, or of bytes, that the survey has already. */
function refuseKnown(files: readonly RawFile[], { record }: Existing): void {
  const faults = files.flatMap(({ name, sha256 }) => {
    const same = record.files.find((file) => file.sha256 === sha256);
    if (same !== undefined)
      return [`${name}: must be new to the survey, got the bytes of ${same.raw}`];
    const taken = record.files.some(({ raw }) => raw.toLowerCase() === `raw/${name}`.toLowerCase());
    return taken ? [`${name}: must have a name of its own, got that of raw/${name}`] : [];
  });
  if (faults.length > 0) throw new InputFault(faults);
}

function refuseTaken({ tables }: ImportedSurvey, { descriptor }: Existing): void {
  const taken = tables.filter(({ path }) => descriptor.resources.some((one) => one.path === path));
  if (taken.length === 0) return;
  throw new InputFault(
    taken.map(
      ({ path, raw }) => `${raw}: must become a file of a new name, got ${path}, which is there`,
    ),
  );
}

/** What the imports before were told, and the channels by the fields that they have here. */
function earlierOf({ record, descriptor }: Existing): Answers {
  const instruments = descriptor.resources.flatMap(({ instrument }) => instrument ?? []);
  const channels = instruments.flatMap((instrument) =>
    instrument.channels.map((one): [string, string] => [
      `channel ${one.field}`,
      `${one.kind}, ${one.unit}, ${one.frequency_Hz} Hz, ${one.separation_m} m, ${one.orientation}`,
    ]),
  );
  const heights = [...new Set(instruments.map(({ height_m }) => height_m))];
  const height: [string, string][] = heights.length === 1 ? [["height_m", String(heights[0])]] : [];
  return new Map([...channels, ...height, ...earlierAnswers(record.settled)]);
}

function campaignsOf({ check }: Existing): readonly KnownCampaign[] {
  return check.summary.flatMap(({ role, campaign, from, to }) => {
    if (role !== "readings" || campaign === null) return [];
    const [first_s, last_s] = [from, to].map((time) => Date.parse(time ?? "") / 1000);
    return [{ label: campaign, first_s: first_s!, last_s: last_s! }];
  });
}

interface Added {
  readonly files: readonly RawFile[];
  readonly imported: ImportedSurvey;
  readonly settled: readonly Settled[];
}

/** The descriptor comes last: until it is there, what was added is no part of the survey. */
function filesToWrite(
  { files, imported, settled }: Added,
  { descriptor, record }: Existing,
): readonly FileToWrite[] {
  const both = new Map([...record.settled, ...settled].map((one) => [one.key, one]));
  const whole = { files: [...record.files, ...imported.records], settled: [...both.values()] };
  const resources = [...descriptor.resources, ...imported.resources];
  return [
    ...importedFiles(files, imported),
    { path: recordFile, content: jsonText(whole) },
    { path: answersFile, content: settledLines(whole.settled) },
    { path: "datapackage.json", content: jsonText({ ...descriptor, resources }) },
  ];
}

/** Adds files to a copy of the folder, checks it, and moves them over where there is no fault. */
async function addWhole(folder: string, files: readonly FileToWrite[]): Promise<SurveyCheck> {
  const out = resolve(folder);
  const copy = await mkdtemp(join(dirname(out), `.${basename(out)}-unfinished-`));
  try {
    await cp(out, copy, { recursive: true });
    await writeFiles(copy, files);
    const check = await checkSurvey(copy);
    if (check.faults.length > 0) throw new InputFault(check.faults.map(faultLine));
    await mkdir(join(out, "raw"), { recursive: true });
    for (const { path } of files) {
      await rename(join(copy, path), join(out, path));
    }
    return check;
  } finally {
    await rm(copy, { recursive: true, force: true });
  }
}
