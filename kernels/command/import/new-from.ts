import { basename, resolve } from "node:path";
import {
  checkSurvey,
  faultLine,
  importSurvey,
  newDescriptor,
  type SurveyCheck,
  settledLines,
} from "../../../lib/index.js";
import { InputFault } from "../failure.js";
import { fillWhole } from "../unfinished-folder.js";
import { answersOf, type ImportOptions } from "./import-options.js";
import { importText, nextText } from "./import-text.js";
import { readRawFiles } from "./read-raw-files.js";
import { settledImport } from "./settled-import.js";
import { answersFile, importedFiles, jsonText, recordFile, writeFiles } from "./written-import.js";

/**
 * A survey folder from raw files. It is written also where `check` finds faults in it, for they are
 * put right there; they are named then.
 */
export async function newFrom(
  folder: string,
  options: ImportOptions,
  addNotebook: (folder: string) => Promise<void>,
): Promise<void> {
  const out = resolve(folder);
  const files = await readRawFiles(options.from);
  const name = basename(out);
  const settled = await settledImport({
    files,
    answers: await answersOf(options),
    answersFile: options.answers,
    target: { name, earlier: new Map(), isThere: false },
    questionsFile: `${folder.replace(/[/\\]+$/, "")}.answers.txt`,
  });
  const imported = importSurvey(settled.plan, {
    name,
    campaigns: [],
    names: new Set(["centreline"]),
  });
  const record = { files: imported.records, settled: settled.settled };
  let check: SurveyCheck | undefined;
  await fillWhole(out, async (unfinished) => {
    await writeFiles(unfinished, [
      ...importedFiles(files, imported),
      { path: "datapackage.json", content: jsonText(newDescriptor(name, settled.plan, imported)) },
      { path: recordFile, content: jsonText(record) },
      { path: answersFile, content: settledLines(settled.settled) },
    ]);
    await addNotebook(unfinished);
    check = await checkSurvey(unfinished);
  });
  report(folder, importText(imported, { ...settled, isFromWalk: settled.plan.isFromWalk }), check);
}

/** Says what was done; names the faults that are left. */
export function report(
  folder: string,
  lines: readonly string[],
  check: SurveyCheck | undefined,
): void {
  const next = check === undefined ? [] : nextText(folder, check);
  process.stdout.write(`${[...lines, ...next].join("\n")}\n`);
  const faults = check?.faults ?? [];
  if (faults.length === 0) return;
  throw new InputFault(faults.map(faultLine));
}
