import { spawn } from "node:child_process";
import { join } from "node:path";
import { repository } from "../support/cells.js";

export interface Ended {
  readonly exitCode: number | null;
  readonly out: string;
  readonly err: string;
}

/** The built command. */
export const commandFile = join(repository, "dist/kernels/command/main.js");

/** Runs the built command in a folder, with more environment variables where given. */
export function banquetteIn(
  folder: string,
  words: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<Ended> {
  const child = spawn(process.execPath, [commandFile, ...words], {
    cwd: folder,
    env: { ...process.env, ...env },
  });
  let out = "";
  let err = "";
  child.stdout.on("data", (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr.on("data", (chunk: Buffer) => {
    err += chunk.toString();
  });
  return new Promise((resolve) => {
    child.on("close", (exitCode) => resolve({ exitCode, out, err }));
  });
}
