import { writeFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { checkHtml, checkJson, checkSurvey, checkText, faultLine } from "../../lib/index.js";
import { checkClosingWords } from "./check-closing-words.js";
import { InputFault } from "./failure.js";
import { terminalText } from "./terminal-text.js";

export interface CheckCommandOptions {
  /** The file to write the check to as a page; none where undefined. */
  readonly html?: string | undefined;
  /** Prints the check as JSON in place of text. */
  readonly json?: boolean;
}

/**
 * `banquette check`: on standard output what each step will have to work with, on standard error
 * every fault; with `json` all of it on standard output. With `html` the whole check goes to that
 * file as a page as well; nothing else is written.
 */
export async function checkCommand(
  folder: string,
  { html, json = false }: CheckCommandOptions = {},
): Promise<void> {
  const check = await checkSurvey(folder, { progress: readingProgress(process.stderr) });
  const name = basename(resolve(folder));
  if (html !== undefined) await writeFile(html, await checkHtml(check, { name }));
  if (json) {
    process.stdout.write(`${JSON.stringify(checkJson(check, { name }), null, 2)}\n`);
    // The faults are told already: what is left is the exit code.
    if (check.faults.length > 0) throw new InputFault([]);
    return;
  }
  const paragraphs = checkText(check).trimEnd().split("\n\n");
  // The first paragraph tells the faults, which belong on standard error.
  const shown = check.faults.length > 0 ? paragraphs.slice(1) : paragraphs;
  const closing = checkClosingWords(check, { folder, html });
  const text = [...shown, ...(closing === "" ? [] : [closing])].join("\n\n");
  if (text !== "") process.stdout.write(`${terminalText(text)}\n`);
  if (check.faults.length > 0) throw new InputFault(check.faults.map(faultLine));
}

/** Tells how far the reading of a large file is, by tenths; of small ones nothing. */
function readingProgress(stream: NodeJS.WriteStream): (file: string, share: number) => void {
  const told = new Map<string, number>();
  return (file, share) => {
    const tenth = Math.floor(10 * share);
    const last = told.get(file);
    if (tenth === last || (share === 1 && last === undefined)) return;
    told.set(file, tenth);
    const text = terminalText(`reading ${file}: ${10 * tenth} %`);
    stream.write(stream.isTTY ? `\r\x1b[K${text}${share === 1 ? "\n" : ""}` : `${text}\n`);
  };
}

/** Throws every fault of a survey folder that `check` would refuse. */
export async function refuseFaulty(folder: string): Promise<void> {
  const { faults } = await checkSurvey(folder);
  if (faults.length > 0) throw new InputFault(faults.map(faultLine));
}
