import { cp, mkdir, mkdtemp, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join, sep } from "node:path";
import { UsageFault } from "./failure.js";

/**
 * Fills a folder beside `out` and puts it in the place of `out` when `fill` has succeeded; a
 * failure leaves `out` as it was. Files of the same names in `out` are replaced, others stay. What
 * an earlier run left when it was killed is put right first.
 */
export async function fillWhole(
  out: string,
  fill: (folder: string) => Promise<void>,
): Promise<void> {
  const found = await stat(out).catch(() => null);
  if (found !== null && !found.isDirectory()) {
    throw new UsageFault(`--out must be a folder, got the file ${out}`);
  }
  await mkdir(dirname(out), { recursive: true });
  await tidyUp(out);
  const unfinished = await mkdtemp(`${hidden(out, "unfinished")}${process.pid}-`);
  try {
    await fill(unfinished);
    await putInPlace(unfinished, out);
  } finally {
    await rm(unfinished, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** How the folders beside `out` begin that a run works with; the number of its process follows. */
function hidden(out: string, kind: "unfinished" | "before"): string {
  return join(dirname(out), `.${basename(out)}-${kind}-`);
}

/**
 * A folder is there or not: where `out` is new, it comes at once; else it takes the old one's
 * place.
 */
async function putInPlace(unfinished: string, out: string): Promise<void> {
  const old = await readdir(out).catch(() => null);
  if (old === null) return rename(unfinished, out);
  if (isWithin(process.cwd(), out)) return moveInto(unfinished, out);
  const names = new Set(await readdir(unfinished));
  for (const name of old) {
    if (names.has(name)) continue;
    await cp(join(out, name), join(unfinished, name), {
      recursive: true,
      preserveTimestamps: true,
    });
  }
  const before = `${hidden(out, "before")}${process.pid}`;
  const isMoved = await rename(out, before).then(
    () => true,
    // A mount point stays where it is.
    () => false,
  );
  if (!isMoved) return moveInto(unfinished, out);
  await rename(unfinished, out);
  await rm(before, { recursive: true, force: true, maxRetries: 3 });
}

// A folder in which somebody works, this command among them, stays that folder.
async function moveInto(unfinished: string, out: string): Promise<void> {
  for (const name of await readdir(unfinished)) {
    await rm(join(out, name), { recursive: true, force: true });
    await rename(join(unfinished, name), join(out, name));
  }
}

function isWithin(folder: string, out: string): boolean {
  return folder === out || folder.startsWith(`${out}${sep}`);
}

/**
 * Of runs whose process is gone: the old folder comes back where no new one came, the rest goes.
 */
async function tidyUp(out: string): Promise<void> {
  const siblings = await readdir(dirname(out));
  for (const kind of ["before", "unfinished"] as const) {
    const start = basename(hidden(out, kind));
    for (const name of siblings.filter((sibling) => sibling.startsWith(start))) {
      const left = join(dirname(out), name);
      if (isRunning(Number.parseInt(name.slice(start.length), 10))) continue;
      if (kind === "before" && (await stat(out).catch(() => null)) === null) {
        await rename(left, out);
      } else {
        await rm(left, { recursive: true, force: true, maxRetries: 3 });
      }
    }
  }
}

function isRunning(pid: number): boolean {
  if (!(pid > 0)) return true;
  try {
    return process.kill(pid, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
