import { mkdir, rm, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import {
  changedFiles,
  inputState,
  type WatchedInputs,
} from "../../../../kernels/command/watch/input-state.js";
import { notebookText } from "../../../../kernels/notebook/notebook-text.js";
import { withFolder } from "../../support/cells.js";
import { code, notebook } from "../../support/notebooks.js";

async function filled(folder: string): Promise<WatchedInputs> {
  const survey = join(folder, "bank");
  await mkdir(join(survey, "walks"), { recursive: true });
  await mkdir(join(survey, ".kept"));
  await mkdir(join(survey, "out"));
  await writeFile(join(survey, "walks", "a.csv"), "1");
  await writeFile(join(folder, "own.ipynb"), notebookText(notebook(code("a", "1 + 1"))));
  return { survey, notebook: join(folder, "own.ipynb"), out: join(survey, "out") };
}

const changes: readonly (readonly [
  string,
  (inputs: WatchedInputs) => Promise<void>,
  readonly string[],
])[] = [
  [
    "names what differs, is new or is gone",
    async ({ survey }) => {
      await writeFile(join(survey, "b.csv"), "2");
      await rm(join(survey, "walks", "a.csv"));
    },
    ["b.csv", "walks/a.csv"],
  ],
  [
    "counts what a file holds, not that it was written",
    ({ survey }) => utimes(join(survey, "walks", "a.csv"), 0, 0),
    [],
  ],
  [
    "leaves outputs, failed runs and hidden files alone",
    async ({ survey }) => {
      await writeFile(join(survey, "out", "findings.json"), "{}");
      await writeFile(join(survey, "out.failed-run.ipynb"), "{}");
      await writeFile(join(survey, ".kept", "a.csv"), "3");
    },
    [],
  ],
  [
    "of a notebook counts its cells, not what they gave",
    async ({ notebook: file }) => {
      const ran = { ...code("a", "1 + 1"), execution_count: 7 };
      await writeFile(file ?? "", notebookText(notebook(ran)));
    },
    [],
  ],
];

for (const [what, change, names] of changes) {
  it(what, async () => {
    await withFolder(async (folder) => {
      const inputs = await filled(folder);
      const before = await inputState(inputs);
      await change(inputs);
      expect(changedFiles(before, await inputState(inputs))).toEqual(names);
    });
  });
}

it("names a notebook outside the survey by its path", async () => {
  await withFolder(async (folder) => {
    const inputs = await filled(folder);
    const before = await inputState(inputs);
    await writeFile(inputs.notebook ?? "", notebookText(notebook(code("a", "1 + 2"))));
    expect(changedFiles(before, await inputState(inputs))).toEqual([inputs.notebook]);
  });
});
