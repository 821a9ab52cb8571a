import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { hasTag, type Notebook } from "../notebook/notebook.js";
import { injectedTag, type Parameters } from "../notebook/parameters.js";
import { InputFault } from "./failure.js";
import { packageFolder } from "./package.js";

/** The values that a stored run gave its parameters: JSON, a name a line. */
export function storedParameters({ cells }: Notebook): Parameters {
  const injected = cells.find((cell) => hasTag(cell, injectedTag));
  const lines = (injected?.source ?? "").split("\n");
  const entries = lines.flatMap((line) => {
    const [, name, json] =
      /^(?:const )?([\p{L}$_][\p{L}\d$_]*)(?:: \w+)? = (.*);$/u.exec(line) ?? [];
    return name === undefined || json === undefined ? [] : [[name, storedValue(json)] as const];
  });
  return Object.fromEntries(entries);
}

function storedValue(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return Number(json);
  }
}

/**
 * The survey folder that a stored appendix names: beside the appendix, around it, in the working
 * folder, or the demo that comes with the tool.
 */
export function findSurvey(name: string, out: string): string {
  const around = [dirname(out), process.cwd()];
  const candidates = [
    ...around.map((folder) => join(folder, name)),
    ...around.filter((folder) => basename(folder) === name),
    join(packageFolder, "data-demo", name),
  ];
  const found = candidates.find((folder) => existsSync(join(folder, "datapackage.json")));
  if (found !== undefined) return resolve(found);
  throw new InputFault([
    `the survey folder "${name}" is not beside the appendix nor here: give it with --survey`,
  ]);
}

/** sha-256 of those of the files that are there. */
export async function hashesOf(
  folder: string,
  paths: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const hashes = new Map<string, string>();
  for (const path of paths) {
    const bytes = await readFile(join(folder, path)).catch(() => null);
    if (bytes !== null) hashes.set(path, createHash("sha256").update(bytes).digest("hex"));
  }
  return hashes;
}
