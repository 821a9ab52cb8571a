// The built command, as a user runs it.
import { spawn } from "node:child_process";
import { resolve } from "node:path";

export const repository = resolve(import.meta.dirname, "../..");

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export function banquette(...args: readonly string[]): Promise<Ran> {
  const main = resolve(repository, "dist/kernels/command/main.js");
  return new Promise((done) => {
    const child = spawn(process.execPath, [main, ...args], { cwd: repository });
    let stdout = "";
    let stderr = "";
    child.stdout.on("data", (part) => {
      stdout += part;
    });
    child.stderr.on("data", (part) => {
      stderr += part;
    });
    child.on("close", (status) => done({ status, stdout, stderr }));
  });
}
