import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { ImportedSurvey, RawFile } from "../../../lib/index.js";

/** The record of imports in a survey folder, and the answers that repeat them. */
export const recordFile = "import.json";
export const answersFile = "import-answers.txt";

/** A file of the survey folder, and its text in pieces or its bytes. */
export interface FileToWrite {
  readonly path: string;
  readonly content: string | Uint8Array | Iterable<string>;
}

/** Files that an import adds to a folder: the raw ones as they are, and what was read of them. */
export function importedFiles(
  raw: readonly RawFile[],
  { tables, centreline }: ImportedSurvey,
): readonly FileToWrite[] {
  return [
    ...raw.map(({ name, bytes }) => ({ path: join("raw", name), content: bytes })),
    ...(centreline === null ? [] : [{ path: "centreline.geojson", content: centreline }]),
    ...tables.map(({ path, pieces }) => ({ path, content: pieces() })),
  ];
}

export async function writeFiles(folder: string, files: readonly FileToWrite[]): Promise<void> {
  for (const { path, content } of files) {
    const file = join(folder, path);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, content);
  }
}

export const jsonText = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;
