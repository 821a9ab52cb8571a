import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import {
  type Findings,
  type ReviewSheet,
  readReviewSheet,
  reviewSheetCsv,
} from "../../lib/index.js";
import { InputFault } from "./failure.js";

const unreadable = (file: string, error: NodeJS.ErrnoException) =>
  new InputFault([`${file}: cannot be read (${error.code ?? error.message})`]);

/** A file's text; null where there is none. */
async function textOrNone(file: string): Promise<string | null> {
  return readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return null;
    throw unreadable(file, error);
  });
}

/**
 * The reviewer's sheet that a file holds. Where there is no such file it is written, to be filled
 * in, and the answer is null.
 */
export async function sheetIn(file: string, findings: Findings): Promise<ReviewSheet | null> {
  const text = await textOrNone(file);
  if (text === null) {
    await writeFile(file, reviewSheetCsv(findings));
    return null;
  }
  const { sheet, faults } = readReviewSheet(text, findings);
  if (sheet === null) throw new InputFault(faults.map((fault) => `${file}: ${fault}`));
  return sheet;
}

/** The findings of another appendix. */
export async function findingsBeside(folder: string): Promise<Findings> {
  const file = join(folder, "findings.json");
  const text = await textOrNone(file);
  if (text === null) throw new InputFault([`${folder}: is no appendix, findings.json not there`]);
  try {
    return JSON.parse(text) as Findings;
  } catch (error) {
    throw new InputFault([`${file}: is no JSON (${(error as Error).message})`]);
  }
}
