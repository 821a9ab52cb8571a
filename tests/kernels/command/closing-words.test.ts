import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { closingWords } from "../../../kernels/command/closing-words.js";
import { withFolder } from "../support/cells.js";

const block = (from_m: number, to_m: number, p90: number) => ({
  ...{ id: `B${from_m}`, from_m, to_m, class: "A" },
  resistivity_ohm_m: [{ top_m: 0, base_m: 2, median: 40, p10: 30, p90 }],
});

const usual = {
  survey: { name: "s", embankment: "Sedgeholm Bank", length_m: 400, campaigns: ["a", "b"] },
  ...{ blocks: [block(0, 150, 50), block(150, 400, 240)], changes: [], seepage: [] },
  cautions: [{ step: "a", text: "b" }],
};

const wordsOf = async (findings: unknown) => {
  let words = "";
  await withFolder(async (folder) => {
    await writeFile(join(folder, "findings.json"), JSON.stringify(findings));
    words = await closingWords(folder, "out");
  });
  return words.split("\n");
};

describe("the closing words of an appendix", () => {
  it("are the document's headline, with what it says against its own blocks", async () => {
    expect(await wordsOf(usual)).toEqual([
      "Sedgeholm Bank, 0.4 km: 2 blocks of 1 kind of ground, 1 of them not of one make; no change " +
        "found between campaigns; no stretch stands out for seepage",
      "cautions to read: 1",
      "Written to out: findings.json",
    ]);
  });

  it("are only where it lies where the notebook's findings are of another form", async () => {
    for (const other of [
      ...[{}, [], null, { ...usual, seepage: null }, { ...usual, survey: {} }],
      { ...usual, blocks: [{ class: "A" }] },
    ]) {
      expect(await wordsOf(other)).toEqual(["Written to out: findings.json"]);
    }
  });
});
