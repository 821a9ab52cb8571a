import { spawnSync } from "node:child_process";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export interface Measured {
  readonly seconds: number;
  /** Of the whole process, its start included. */
  readonly processor_s: number;
  readonly peak_MB: number;
}

const task = fileURLToPath(new URL("task.js", import.meta.url));

/** Runs a task of task.ts on a folder. */
export function measured(name: "gather" | "query" | "reach", folder: string): Measured {
  const { stdout, stderr, status } = spawnSync(process.execPath, [task, name, folder]);
  if (status !== 0) throw new Error(String(stderr));
  return JSON.parse(String(stdout).trimEnd().split("\n").at(-1) ?? "") as Measured;
}

/** Bytes of all files of a folder, and how many there are. */
export function bytesIn(folder: string): { readonly bytes: number; readonly files: number } {
  const names = readdirSync(folder, { recursive: true }) as string[];
  const sizes = names.map((name) => statSync(join(folder, name))).filter((one) => one.isFile());
  return { bytes: sizes.reduce((sum, { size }) => sum + size, 0), files: sizes.length };
}
