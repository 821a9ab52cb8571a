import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** Writes texts below a folder, by relative path, and makes the folders they need. */
export function writeFiles(folder: string, files: ReadonlyMap<string, string>): void {
  for (const [path, text] of files) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
}
