import { copyFile, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { expandPage } from "./expand-page.js";
import { Pictures } from "./figures.js";
import { blocksOf, readPages } from "./page.js";
import { writeRawFiles } from "./raw-files.js";
import { repository } from "./repository.js";
import { runCells } from "./run-cells.js";
import { runCommands } from "./run-commands.js";
import { writeSite } from "./write-site.js";

const pagesFolder = join(repository, "docs/pages");

/**
 * Makes the documentation: runs every example of its pages, puts what they gave below them, and
 * writes a folder of HTML that is read offline.
 */
export async function buildSite(out: string): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), "banquette-docs-"));
  try {
    const pages = await readPages(pagesFolder);
    const work = join(folder, "work");
    await writeRawFiles(join(work, "raw"));
    const [told, outputs] = await Promise.all([
      runCommands(blocksOf(pages, "sh"), work),
      runCells(blocksOf(pages, "ts"), join(repository, "docs")),
    ]);
    const expanded = join(folder, "pages");
    const ran = { outputs, told, pictures: new Pictures(expanded), folder: work };
    for (const page of pages) {
      const file = join(expanded, page.path);
      await mkdir(dirname(file), { recursive: true });
      await writeFile(file, `${await expandPage(page, ran)}\n`);
    }
    await writeSite(expanded, out);
    await copyFile(join(repository, "LICENSE"), join(out, "LICENSE.txt"));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
