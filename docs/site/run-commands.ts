import { spawn } from "node:child_process";
import { join } from "node:path";
import type { CodeBlock, Shown } from "./page.js";
import { repository } from "./repository.js";

/**
 * Runs the blocks one after the other with bash in a folder, `npx banquette` being the built command,
 * and gives what each wrote. Throws where one ends otherwise than its page says (`exit=1`).
 */
export async function runCommands(
  shown: readonly Shown[],
  folder: string,
): Promise<ReadonlyMap<CodeBlock, string>> {
  const told = new Map<CodeBlock, string>();
  for (const { page, block } of shown) {
    const { exitCode, text } = await ran(block.source, folder);
    const expected = Number(block.words.get("exit") ?? 0);
    if (exitCode !== expected) {
      throw new Error(`${page.path}: exit ${exitCode} of\n${block.source}\n${text}`);
    }
    told.set(block, withoutTimes(text.replaceAll(folder, ".")));
  }
  return told;
}

/** What a command tells of its progress takes another time at each making of the pages. */
function withoutTimes(text: string): string {
  return text.replace(/^(cell \d+ of \d+ .*?) {2}[\d.]+ s$/gm, "$1");
}

const command = join(repository, "dist/kernels/command/main.js");

function ran(source: string, cwd: string): Promise<{ exitCode: number | null; text: string }> {
  const npx = `npx() { shift; '${process.execPath}' '${command}' "$@"; }`;
  const child = spawn("bash", ["-e", "-c", `exec 2>&1\n${npx}\n${source}`], { cwd });
  const parts: Buffer[] = [];
  child.stdout.on("data", (part: Buffer) => parts.push(part));
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (exitCode) => {
      resolve({ exitCode, text: Buffer.concat(parts).toString("utf8") });
    });
  });
}
