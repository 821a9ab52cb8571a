import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { packagedNotebook } from "./package.js";
import { startNotebook } from "./start-notebook.js";

/** The notebook that `appendix` runs on a survey. */
export interface ChosenNotebook {
  readonly file: string;
  /** Which it is and why, to be read after "running". */
  readonly why: string;
}

/**
 * The notebook that is asked for; else the one in the survey's folder that hands findings over:
 * `interpretation.ipynb`, or the only one of another name; else the one that comes with the tool.
 */
export async function chosenNotebook(
  folder: string,
  asked: string | undefined,
): Promise<ChosenNotebook> {
  if (asked !== undefined) return { file: asked, why: `${asked}, as --notebook asks` };
  const names = (await readdir(folder)).filter((name) => name.endsWith(".ipynb")).sort();
  const own: string[] = [];
  for (const name of names) if (await handsOver(join(folder, name))) own.push(name);
  const chosen = own.includes(startNotebook)
    ? startNotebook
    : own.length === 1
      ? own[0]
      : undefined;
  if (chosen !== undefined) {
    return { file: join(folder, chosen), why: `${chosen}, the notebook in the survey's folder` };
  }
  return {
    file: packagedNotebook,
    why: `the notebook that comes with the tool: ${reason(names, own)}`,
  };
}

function reason(names: readonly string[], own: readonly string[]): string {
  if (names.length === 0) return "the survey's folder holds none";
  if (own.length > 1) {
    return `the survey's folder holds several, ${own.join(", ")}; name one with --notebook`;
  }
  return `${names.join(", ")} in the survey's folder hands no findings over`;
}

async function handsOver(file: string): Promise<boolean> {
  return /\bhandOver\(/.test(await readFile(file, "utf8").catch(() => ""));
}
