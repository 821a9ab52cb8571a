// Which notebook `appendix` runs, and that it says why.
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { chosenNotebook } from "../../../kernels/command/chosen-notebook.js";
import { withFolder } from "../support/cells.js";

const HANDS = "await handOver(findings)";

describe("chosenNotebook", () => {
  const cases: readonly [string, readonly (readonly [string, string])[], RegExp][] = [
    ["none", [], /^the notebook that comes with the tool: the survey's folder holds none$/],
    ["its own", [["interpretation.ipynb", HANDS]], /^interpretation\.ipynb, the notebook in the/],
    [
      "one of another name",
      [["my.ipynb", HANDS]],
      /^my\.ipynb, the notebook in the survey's folder$/,
    ],
    [
      "one beside its own",
      [
        ["a.ipynb", HANDS],
        ["interpretation.ipynb", HANDS],
      ],
      /^interpretation/,
    ],
    [
      "a look at the data only",
      [["look.ipynb", "1"]],
      /tool: look\.ipynb in .* hands no findings over$/,
    ],
    [
      "two",
      [
        ["a.ipynb", HANDS],
        ["b.ipynb", HANDS],
      ],
      /several, a\.ipynb, b\.ipynb; name one with/,
    ],
  ];

  it.each(cases)("of a folder with %s", async (_, files, why) => {
    await withFolder(async (folder) => {
      for (const [name, text] of files) await writeFile(join(folder, name), text);
      expect((await chosenNotebook(folder, undefined)).why).toMatch(why);
    });
  });

  it("is the one that is asked for", async () => {
    const chosen = await chosenNotebook("nowhere", "x.ipynb");
    expect(chosen).toEqual({ file: "x.ipynb", why: "x.ipynb, as --notebook asks" });
  });
});
