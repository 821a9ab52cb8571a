// An appendix that is ended at any moment leaves an appendix or none, and nothing that runs.
//
// Moments are drawn from a seed over the time that a whole run takes. A full disk is a limit on the
// size of files (`ulimit -f`), which the system holds to as it does to a disk's end.
import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { minimalSurvey } from "../../survey/support/survey-folder.js";
import { withFolder } from "../support/cells.js";
import { code, notebook } from "../support/notebooks.js";
import { processesWith } from "../support/processes.js";
import { commandFile } from "./banquette.js";

const MOMENTS = Number(process.env.ENDED_MOMENTS ?? 20);
const SEED = 16;

const handing = [
  'import { spawn } from "node:child_process"; import { writeFileSync } from "node:fs";',
  'spawn("sleep", ["600"], { detached: true, stdio: "ignore" });',
  "const text = JSON.stringify({ version });",
  "const write = (name: string, more = 0) =>",
  '  writeFileSync([outputFolder, name].join("/"), text + " ".repeat(more));',
  'write("findings.json"); write("provenance.json");',
  "await new Promise((go) => setTimeout(go, 300));",
  'write("accounting.csv", 200_000);',
].join("\n");

const given = notebook(
  code(
    "parameters",
    'const surveyFolder = "."; const outputFolder = "."; const version = 0;',
    "parameters",
  ),
  code("hand", handing),
);

async function writeInputs(folder: string): Promise<void> {
  const { package: descriptor, files } = minimalSurvey();
  const texts = { ...files, "datapackage.json": [JSON.stringify(descriptor)] };
  for (const [path, lines] of Object.entries(texts)) {
    await mkdir(dirname(join(folder, "bank", path)), { recursive: true });
    await writeFile(join(folder, "bank", path), lines.join("\n"));
  }
  await writeFile(join(folder, "n.ipynb"), notebookText(given));
}

interface Ending {
  readonly signal?: NodeJS.Signals;
  readonly after_ms?: number;
  /** Of a file, in blocks of 512 bytes or more. */
  readonly limit?: number;
}

interface Ended {
  readonly exitCode: number | null;
  readonly err: string;
  readonly lasted_ms: number;
}

function appendix(folder: string, version: number, ending: Ending = {}): Promise<Ended> {
  const words = ["appendix", "bank", "--notebook", "n.ipynb", "--out", "out"];
  const set = ["--set", `version=${version}`];
  const limit = ending.limit === undefined ? "unlimited" : String(ending.limit);
  const script = 'ulimit -f "$1"; shift; exec "$@"';
  const line = ["-c", script, "sh", limit, process.execPath, commandFile, ...words, ...set];
  const env = { ...process.env, BANQUETTE_TEST: folder };
  const start = performance.now();
  const child = spawn("/bin/sh", line, { cwd: folder, env, stdio: ["ignore", "ignore", "pipe"] });
  let err = "";
  child.stderr.on("data", (chunk: Buffer) => {
    err += chunk.toString();
  });
  const { signal } = ending;
  if (signal !== undefined) setTimeout(() => child.kill(signal), ending.after_ms);
  return new Promise((resolve) => {
    child.on("exit", (exitCode) =>
      resolve({ exitCode, err, lasted_ms: performance.now() - start }),
    );
  });
}

const names = [
  "accounting.csv",
  "appendix.html",
  "appendix.ipynb",
  "findings.json",
  "provenance.json",
];

/** The version of the appendix that is there; null without one. Throws where it is not whole. */
function versionThere(folder: string): number | null {
  if (!readdirSync(folder).includes("out")) return null;
  const out = join(folder, "out");
  expect(readdirSync(out).filter((name) => name !== "appendix.pdf")).toEqual(names);
  const text = (name: string) => readFileSync(join(out, name), "utf8");
  const { version } = JSON.parse(text("findings.json"));
  expect(JSON.parse(text("provenance.json")).version).toBe(version);
  expect(JSON.parse(text("accounting.csv")).version).toBe(version);
  for (const name of ["appendix.ipynb", "appendix.html"]) {
    expect(text(name).replace(/<[^>]*>/g, "")).toMatch(RegExp(`version(: number)? = ${version};`));
  }
  return version;
}

async function settled(folder: string): Promise<void> {
  const variable = `BANQUETTE_TEST=${folder}`;
  for (let i = 0; i < 400 && processesWith(variable).length > 0; i++) {
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  expect(processesWith(variable)).toEqual([]);
}

describe.runIf(process.platform === "linux")("an appendix that is ended early", () => {
  it("leaves the appendix before it or its own, whole, and nothing that runs", async () => {
    await withFolder(async (folder) => {
      await writeInputs(folder);
      const random = seededRandom(SEED);
      const whole = await appendix(folder, 0);
      expect(whole.exitCode, whole.err).toBe(0);
      let before = versionThere(folder);
      expect(before).toBe(0);
      for (let version = 1; version <= MOMENTS; version++) {
        const after_ms = 1.1 * whole.lasted_ms * random.uniform();
        const kinds: readonly Ending[] = [
          { signal: "SIGKILL", after_ms },
          { signal: "SIGTERM", after_ms },
          { limit: random.integer(500) },
        ];
        const ending = kinds[version % kinds.length]!;
        const { exitCode, err } = await appendix(folder, version, ending);
        await settled(folder);
        const told = `${JSON.stringify(ending)} ${err}`;
        expect([0, 1, null], told).toContain(exitCode);
        const now = versionThere(folder);
        expect([before, version], told).toContain(now);
        if (exitCode === 0) expect(now).toBe(version);
        if (ending.limit !== undefined && exitCode === 1) expect(err).toMatch(/EFBIG/);
        before = now;
      }
      const last = await appendix(folder, MOMENTS + 1);
      expect(last.exitCode, last.err).toBe(0);
      expect(versionThere(folder)).toBe(MOMENTS + 1);
      await settled(folder);
      expect(readdirSync(folder).sort()).toEqual(["bank", "n.ipynb", "out"]);
    });
  }, 900_000);
});
