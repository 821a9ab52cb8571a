import { execFile } from "node:child_process";
import { rm, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { promisify } from "node:util";

const run = promisify(execFile);

/** Name of a kernel's start-up snapshot in its folder. */
export const snapshotName = "start.blob";

// Modules that a snapshot may hold in part have ended the process when they were loaded after it.
const loadsMore =
  'for (const name of ["crypto", "https", "inspector", "worker_threads", "zlib"]) require(name)';

/**
 * Writes a V8 start-up snapshot in which the compiler stands ready (Node.js documentation,
 * "Startup snapshot"). False where this Node cannot make one, or not start from it.
 */
export async function writeStartSnapshot(file: string): Promise<boolean> {
  const { NODE_OPTIONS: _, ...env } = process.env;
  const node = (...words: readonly string[]) => run(process.execPath, words, { env });
  const script = `${file}.js`;
  try {
    const { preparingScript } = await import("../session/types/preparing-script.js");
    await writeFile(script, preparingScript());
    await node("--snapshot-blob", file, "--build-snapshot", script);
    await node("--snapshot-blob", file, "--eval", loadsMore);
    return true;
  } catch {
    await rm(file, { force: true });
    return false;
  } finally {
    await rm(script, { force: true });
  }
}

// Node ends at once when a snapshot is of another Node, of other V8 options or of another
// processor; so it starts from one only where it was made, and in any other case without.
const startScript = [
  'if [ -z "$NODE_OPTIONS" ] && [ -r "$3" ] && [ "$("$1" --version) $(uname -n)" = "$4" ]',
  'then exec "$1" --snapshot-blob "$3" "$2" "$5"',
  'else exec "$1" "$2" "$5"',
  "fi",
].join("\n");

/** Words that start a program on the connection file, from the snapshot where that is possible. */
export function startFromSnapshot(entry: string, snapshot: string): readonly string[] {
  const place = `${process.version} ${hostname()}`;
  const words = [process.execPath, entry, snapshot, place, "{connection_file}"];
  return ["/bin/sh", "-c", startScript, "banquette", ...words];
}
