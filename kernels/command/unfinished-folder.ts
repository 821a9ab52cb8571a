import { mkdir, mkdtemp, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { UsageFault } from "./failure.js";

/**
 * Fills a folder beside `out` and moves what it holds into `out` when `fill` has succeeded; a
 * failure leaves `out` as it was. Files of the same names in `out` are replaced, others stay.
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
  const unfinished = await mkdtemp(join(dirname(out), `.${basename(out)}-unfinished-`));
  try {
    await fill(unfinished);
    await mkdir(out, { recursive: true });
    for (const name of await readdir(unfinished)) {
      await rm(join(out, name), { recursive: true, force: true });
      await rename(join(unfinished, name), join(out, name));
    }
  } finally {
    await rm(unfinished, { recursive: true, force: true });
  }
}
