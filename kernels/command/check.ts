import { writeFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { checkHtml, checkSurvey, checkText, faultLine } from "../../lib/index.js";
import { InputFault } from "./failure.js";
import { terminalText } from "./terminal-text.js";

/**
 * `banquette check`: on standard output what each step will have to work with, on standard error
 * every fault. With `html` the whole check goes to that file as a page as well; nothing else is
 * written.
 */
export async function checkCommand(
  folder: string,
  { html }: { readonly html?: string | undefined } = {},
): Promise<void> {
  const check = await checkSurvey(folder, { progress: readingProgress(process.stderr) });
  if (html !== undefined) {
    await writeFile(html, await checkHtml(check, { name: basename(resolve(folder)) }));
  }
  const paragraphs = checkText(check).trimEnd().split("\n\n");
  // The first paragraph tells the faults, which belong on standard error.
  const shown = check.faults.length > 0 ? paragraphs.slice(1) : paragraphs;
  if (shown.length > 0) process.stdout.write(`${terminalText(shown.join("\n\n"))}\n`);
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
