// Folders and notebooks spoiled at random: refused or run, never a fault of the program, nothing left
// running, memory within bounds. `FUZZ_SECONDS` and `FUZZ_SEED` ask for more.
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { wholeSurvey } from "../../survey/support/survey-folder.js";
import { withFolder } from "../support/cells.js";
import { code, notebook, text } from "../support/notebooks.js";
import { memoryOf_MB, processesWith } from "../support/processes.js";

const SECONDS = Number(process.env.FUZZ_SECONDS ?? 20);
const SEED = process.env.FUZZ_SEED ?? "2031";
const script = fileURLToPath(new URL("../support/fuzz.mjs", import.meta.url));

interface Told {
  readonly runs: number;
  readonly well: number;
  readonly refused: number;
  readonly faults: readonly string[];
}

/** Runs the script on what lies in the folder's "sound"; gives the most memory of any process. */
async function fuzzed(kind: "folder" | "notebook", folder: string) {
  const variable = `BANQUETTE_TEST=${folder}`;
  const env = { ...process.env, BANQUETTE_TEST: folder };
  const words = [script, kind, String(SECONDS), SEED, folder];
  const child = spawn(process.execPath, words, { env, stdio: "inherit" });
  let most_MB = 0;
  const watch = setInterval(() => {
    for (const id of processesWith(variable)) most_MB = Math.max(most_MB, memoryOf_MB(id));
  }, 200);
  const exitCode = await new Promise((resolve) => child.on("exit", resolve));
  clearInterval(watch);
  expect(exitCode).toBe(0);
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(processesWith(variable)).toEqual([]);
  const told = JSON.parse(readFileSync(join(folder, "told.json"), "utf8")) as Told;
  return { told, most_MB };
}

function write(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, "sound", path)), { recursive: true });
    writeFileSync(join(folder, "sound", path), content);
  }
}

const given = notebook(
  text("t", "# A notebook"),
  code("p", "const rows = 3;", "parameters"),
  code("a", "#| label: fig\nconst twice = [1, 2].map((x) => rows * x);\ntwice"),
  code(
    "b",
    "display({ a: twice }); console.log(String(twice)); await Promise.resolve(twice.length)",
  ),
);

describe.runIf(process.platform === "linux")("what is spoiled at random", () => {
  it.each(["folder", "notebook"] as const)(
    "as a %s is refused or run",
    async (kind) => {
      await withFolder(async (folder) => {
        const { package: descriptor, files } = wholeSurvey();
        const lines = Object.entries(files).map(([path, own]) => [path, own.join("\n")] as const);
        const survey = {
          ...Object.fromEntries(lines),
          "datapackage.json": JSON.stringify(descriptor),
        };
        write(folder, kind === "folder" ? survey : { "n.ipynb": notebookText(given) });
        const { told, most_MB } = await fuzzed(kind, folder);
        expect(told.faults).toEqual([]);
        expect(told.refused).toBeGreaterThan(0);
        expect(told.well + told.refused).toBe(told.runs);
        expect(most_MB).toBeLessThan(1500);
      });
    },
    60_000 + 2000 * SECONDS,
  );
});
