import { createHash } from "node:crypto";
import { readdir, readFile, stat } from "node:fs/promises";
import { join, relative, resolve, sep } from "node:path";
import { parseNotebook } from "../../notebook/read-notebook.js";

/** The files that an appendix depends on. */
export interface WatchedInputs {
  /** The survey folder, absolute. */
  readonly survey: string;
  /** A notebook outside it; null where there is none. */
  readonly notebook: string | null;
  /** The folder of the outputs, absolute: it may lie in the survey folder and is no input. */
  readonly out: string;
}

/** File, as it is to be shown → hash of what counts in it. */
export type InputState = ReadonlyMap<string, string>;

/** The files with what tells cheaply whether one was written: length and time. */
export async function inputStamps(inputs: WatchedInputs): Promise<InputState> {
  return stateOf(inputs, async (file) => {
    const { mtimeMs, size } = await stat(file);
    return `${mtimeMs} ${size}`;
  });
}

/** The files with what they hold; of a notebook only its cells, not what they gave. */
export async function inputState(inputs: WatchedInputs): Promise<InputState> {
  return stateOf(inputs, async (file) => {
    const bytes = await readFile(file);
    const counted = file.endsWith(".ipynb") ? cellsOf(bytes.toString("utf8"), file) : bytes;
    return createHash("sha256").update(counted).digest("hex");
  });
}

/** Names of the files that differ, are new or are gone. */
export function changedFiles(before: InputState, after: InputState): readonly string[] {
  const names = new Set([...before.keys(), ...after.keys()]);
  return [...names].filter((name) => before.get(name) !== after.get(name)).sort();
}

async function stateOf(
  { survey, notebook, out }: WatchedInputs,
  read: (file: string) => Promise<string>,
): Promise<InputState> {
  const files = await filesUnder(survey, out);
  const all = notebook === null ? files : [...files, resolve(notebook)];
  // A file that goes while it is looked at is one that is not there.
  const entries = await Promise.all(
    all.map(async (file) => [shown(survey, file), await read(file).catch(() => "gone")] as const),
  );
  return new Map(entries);
}

async function filesUnder(folder: string, out: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const files: string[] = [];
  for (const entry of entries) {
    const path = join(folder, entry.name);
    if (entry.name.startsWith(".") || entry.name === "node_modules" || isOutput(path, out))
      continue;
    if (entry.isDirectory()) files.push(...(await filesUnder(path, out)));
    else files.push(path);
  }
  return files;
}

// What a failed run leaves beside the folder carries its name too.
function isOutput(path: string, out: string): boolean {
  return path === out || path.startsWith(`${out}.`);
}

function shown(survey: string, file: string): string {
  const inside = relative(survey, file);
  return inside.startsWith("..") ? file : inside.split(sep).join("/");
}

function cellsOf(text: string, file: string): string {
  try {
    const { cells } = parseNotebook(text, file);
    return JSON.stringify(
      cells.map(({ cell_type, source, metadata }) => [cell_type, source, metadata.tags]),
    );
  } catch {
    return text;
  }
}
