import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";

/**
 * Writes a file through another one beside it, so that a reader never meets half of it, and what
 * was there stays where it cannot be written.
 */
export async function writeWhole(file: string, text: string): Promise<void> {
  const folder = dirname(resolve(file));
  await mkdir(folder, { recursive: true });
  const unfinished = join(folder, `.${basename(file)}.unfinished`);
  try {
    await writeFile(unfinished, text);
    await rename(unfinished, file);
  } finally {
    await rm(unfinished, { force: true });
  }
}
