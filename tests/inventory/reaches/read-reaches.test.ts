import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { readReaches } from "../../../lib/inventory/reaches/read-reaches.js";
import { faultLine } from "../../../lib/survey/check/faults.js";
import { withFolder } from "../../kernels/support/cells.js";

async function inFolder(files: Readonly<Record<string, string>>) {
  let read: Awaited<ReturnType<typeof readReaches>> | null = null;
  await withFolder(async (folder) => {
    for (const [name, text] of Object.entries(files)) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), text);
    }
    read = await readReaches(folder);
  });
  return read!;
}

const survey = "datapackage.json";

describe("the reaches of an inventory", () => {
  it("are the rows of its table, by name, with further columns kept", async () => {
    const { reaches, faults, fromTable } = await inFolder({
      "reaches.csv": "folder,reach,owner\nb,R2,North\na/x,R1,\n",
      [`a/x/${survey}`]: "{}",
      [`b/${survey}`]: "{}",
      [`c/${survey}`]: "{}",
    });
    expect(faults).toEqual([]);
    expect(fromTable).toBe(true);
    expect(reaches).toEqual([
      { reach: "R1", folder: "a/x", details: { owner: "" } },
      { reach: "R2", folder: "b", details: { owner: "North" } },
    ]);
  });

  it("are the survey folders below where there is no table, outputs left out", async () => {
    const { reaches, fromTable } = await inFolder({
      [`north/one/${survey}`]: "{}",
      [`two/${survey}`]: "{}",
      [`inventory-out/reaches/${survey}`]: "{}",
    });
    expect(fromTable).toBe(false);
    expect(reaches.map(({ reach, folder }) => [reach, folder])).toEqual([
      ["north-one", "north/one"],
      ["two", "two"],
    ]);
  });

  it("are refused with every fault at once: file, row, field, rule, value", async () => {
    const { faults } = await inFolder({
      "reaches.csv": "reach,folder\nR 1,a\nR2,b\nr2,c\n,a\nR5,\nR6,b/\n",
      [`a/${survey}`]: "{}",
      [`b/${survey}`]: "{}",
    });
    expect(faults.map(({ code, row, field }) => [code, row, field])).toEqual([
      ["reach-name", 2, "reach"],
      ["reach-name", 5, "reach"],
      ["missing-value", 6, "folder"],
      ["given-twice", 4, "reach"],
      ["given-twice", 5, "folder"],
      ["given-twice", 7, "folder"],
      ["no-survey", 4, "folder"],
    ]);
    expect(faultLine(faults[0]!)).toBe(
      "reaches.csv row 2, field reach: must be 1 to 80 letters without accents, digits, dots, underscores " +
        'or hyphens, the first a letter or digit, got "R 1"',
    );
  });

  it.each([
    ["without a column", { "reaches.csv": "reach,path\nR1,a\n" }, ["missing-column"]],
    ["that is empty", { "reaches.csv": "" }, ["missing-column", "missing-column"]],
    ["without a row", { "reaches.csv": "reach,folder\n" }, ["no-reaches"]],
    ["and without a survey folder", { "notes.txt": "" }, ["no-reaches"]],
    [
      "and with folders of one name",
      { [`a/b/${survey}`]: "{}", [`a-b/${survey}`]: "{}" },
      ["reach-name", "reach-name"],
    ],
  ])("are refused from a folder with a table %s", async (_, files, codes) => {
    const { faults } = await inFolder(files as unknown as Record<string, string>);
    expect(faults.map(({ code }) => code)).toEqual(codes);
  });
});
