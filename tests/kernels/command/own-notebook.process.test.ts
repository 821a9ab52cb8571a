// The notebook that `new` writes is the one that `appendix` runs, and what it decides is true.
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { repository, withFolder } from "../support/cells.js";
import { banquetteIn } from "./banquette.js";
import { fillIn } from "./filled-in.js";

const notebook = join("bank", "interpretation.ipynb");

async function changed(folder: string, from: string, to: string): Promise<void> {
  const text = await readFile(join(folder, notebook), "utf8");
  expect(text).toContain(from);
  await writeFile(join(folder, notebook), text.replaceAll(from, to));
}

const json = async (folder: string, name: string) =>
  JSON.parse(await readFile(join(folder, "out", name), "utf8"));

describe("banquette appendix on a survey with a notebook of its own", () => {
  it("runs that notebook, with the author's decisions and reasons", async () => {
    await withFolder(async (folder) => {
      await banquetteIn(folder, ["new", "bank"]);
      await fillIn(join(folder, "bank"));
      await changed(folder, 'minLength_m\\", 40, {', 'minLength_m\\", 60, {');
      await changed(
        folder,
        'proposed: \\"Repairs and stretches of one make',
        'because: \\"Repairs and stretches of one make',
      );
      const run = await banquetteIn(folder, ["appendix", "bank", "--out", "out"]);
      expect(run.exitCode, run.err).toBe(0);
      expect(run.out).toMatch(
        /km: \d+ blocks? of \d+ kinds? of ground.*; .*seepage.*\ncautions to read: \d+\n/,
      );
      expect(run.out).toMatch(/Written to out: accounting\.csv, appendix\.html, .*findings\.json/);
      expect(run.err).toContain(
        "running interpretation.ipynb, the notebook in the survey's folder",
      );
      const provenance = await json(folder, "provenance.json");
      expect(provenance.notebook.file).toBe("interpretation.ipynb");
      const { decisions } = await json(folder, "findings.json");
      expect(decisions.map(({ by }: { by: string }) => by)).toEqual([
        "tool",
        "tool",
        "tool",
        "author",
        "tool",
        "tool",
        "tool",
        "tool",
      ]);
      expect(decisions[3]).toMatchObject({ decision: "segmentBlocks.minLength_m", value: "60" });
      const page = await readFile(join(folder, "out", "appendix.html"), "utf8");
      expect(page).toContain("7 of 8 still with the reason that the tool proposes");
    });
  }, 500_000);

  it("fails where a decision is false on the record, and names option and both values", async () => {
    await withFolder(async (folder) => {
      await banquetteIn(folder, ["new", "bank"]);
      await fillIn(join(folder, "bank"));
      await changed(folder, "minLength_m: shortestBlock.value", "minLength_m: 150");
      const run = await banquetteIn(folder, ["appendix", "bank", "--out", "out"]);
      expect(run.exitCode).toBe(1);
      expect(run.err).toContain(
        "what segmentBlocks used for minLength_m, 150, got 40 (the decision segmentBlocks.minLength_m is on record and the step was run otherwise)",
      );
      expect(await readdir(folder)).toEqual(["bank", "out.failed-run.ipynb"]);
    });
  }, 500_000);

  it("says so where that notebook hands nothing over, and runs its own", async () => {
    await withFolder(async (folder) => {
      await banquetteIn(folder, ["new", "bank", "--steps", "survey,drift"]);
      await fillIn(join(folder, "bank"));
      const run = await banquetteIn(folder, ["appendix", "bank", "--out", "out"]);
      expect(run.exitCode, run.err).toBe(0);
      expect(run.err).toContain(
        "running the notebook that comes with the tool: interpretation.ipynb in the survey's folder hands no findings over\n",
      );
      expect((await json(folder, "provenance.json")).notebook.file).toBe("appendix.ipynb");
    });
  }, 500_000);
});

describe("the false decision of a shipped notebook", () => {
  it("is told in the step's own cell of the stored notebook", async () => {
    await withFolder(async (folder) => {
      const shipped = await readFile(
        join(repository, "notebooks", "cells", "blocks.ipynb"),
        "utf8",
      );
      const text = shipped
        .replaceAll("minLength_m: shortestBlock.value", "minLength_m: 150")
        .replaceAll("../../data-demo", join(repository, "data-demo"));
      await writeFile(join(folder, "blocks.ipynb"), text);
      const words = ["run", "blocks.ipynb", "--out", "ran.ipynb", "--set", "spacing_m=10"];
      const run = await banquetteIn(folder, words);
      expect(run.exitCode, run.err).toBe(0);
      expect(await readFile(join(folder, "ran.ipynb"), "utf8")).toContain(
        "segmentBlocks.minLength_m is decided as 40, and segmentBlocks used 150",
      );
    });
  }, 500_000);
});
