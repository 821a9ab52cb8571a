import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { UsageFault } from "../failure.js";

interface Holder {
  readonly pid: number;
  readonly host: string;
}

/** Does the work while no other run of the inventory is at work in the folder. */
export async function alone<Value>(out: string, work: () => Promise<Value>): Promise<Value> {
  const file = join(out, "inventory-lock.json");
  await mkdir(out, { recursive: true });
  const mine: Holder = { pid: process.pid, host: hostname() };
  await refuseOther(file, mine);
  await writeFile(file, JSON.stringify(mine));
  try {
    return await work();
  } finally {
    await rm(file, { force: true });
  }
}

/** The lock of a run that was killed on this machine is no lock. */
async function refuseOther(file: string, mine: Holder): Promise<void> {
  const text = await readFile(file, "utf8").catch(() => null);
  if (text === null) return;
  const other = holderIn(text);
  if (other === null || (other.host === mine.host && !isAlive(other.pid))) return;
  const where = other.host === mine.host ? "this machine" : other.host;
  throw new UsageFault(
    `another run of this inventory is at work (process ${other.pid} on ${where}); ` +
      `where that is not so, delete ${file}`,
  );
}

function holderIn(text: string): Holder | null {
  try {
    return JSON.parse(text) as Holder;
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
