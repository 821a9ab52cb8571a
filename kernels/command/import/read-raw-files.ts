import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import type { RawFile } from "../../../lib/index.js";
import { InputFault } from "../failure.js";

/** The files that are to be imported; all that is wrong with them at once. */
export async function readRawFiles(paths: readonly string[]): Promise<readonly RawFile[]> {
  const faults: string[] = [];
  const files: RawFile[] = [];
  for (const path of paths) {
    const name = basename(path);
    if (files.some((other) => other.name.toLowerCase() === name.toLowerCase())) {
      faults.push(`${path}: must have another name than the other files, got ${name} twice`);
      continue;
    }
    const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => {
      faults.push(`${path}: must be a file that can be read (${error.code})`);
      return null;
    });
    if (bytes === null) continue;
    files.push({ name, bytes, sha256: createHash("sha256").update(bytes).digest("hex") });
  }
  if (faults.length > 0) throw new InputFault(faults);
  return files;
}
