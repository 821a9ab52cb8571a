// The kernel beside bare tslab and ipykernel, in turn on the same machine: from the start of the
// process to the first result, a small cell over 300 cells, importing the library, memory after 300
// cells; and what it cannot go below: TypeScript by itself, loading the snapshot, importing the
// library as JavaScript. Of each time, first the clock's, then the processors' (of the whole process),
// which says more on a loaded machine. Each figure that is wanted stands below beside its floor.
// The kernel is started with the words that `banquette kernel install` writes. ipykernel is that of
// python3, else of the environment that .ci/python.sh makes; BANQUETTE_PYTHON_LAB names another.
// Run: node dist/bench/kernel.js
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  type Candidate,
  compilerAlone,
  libraryAlone,
  type Measured,
  measured,
  snapshotAlone,
} from "./kernel/measured.js";
import { printReport } from "./kernel/report.js";
import { connectionWord } from "./kernel/started-kernel.js";

const cells = Number(process.env.BENCH_CELLS ?? 300);
const rounds = Number(process.env.BENCH_ROUNDS ?? 3);
/** Longest wait for an answer: so many times what tslab's first one took, and for that one, ms. */
const patienceOverTslab = 20;
const firstPatience_ms = 300_000;

const requireHere = createRequire(import.meta.url);
const compiled = (path: string) => fileURLToPath(new URL(`../kernels/${path}`, import.meta.url));

const kernelFolder = "share/jupyter/kernels/banquette";

// As Jupyter reads it from the kernel's folder.
function installedArgv(prefix: string): readonly string[] {
  const install = [compiled("command/main.js"), "kernel", "install", "--prefix", prefix];
  const { status, stderr } = spawnSync(process.execPath, install, { encoding: "utf8" });
  if (status !== 0) throw new Error(`the kernel cannot be installed: ${stderr}`);
  const file = join(prefix, kernelFolder, "kernel.json");
  return (JSON.parse(readFileSync(file, "utf8")) as { readonly argv: readonly string[] }).argv;
}

function candidates(prefix: string): readonly Candidate[] {
  const cell = (i: number) => `let level_${i} = ${i};\nlevel_${i} + 1`;
  const importing =
    'import { correctDrift, estimateDepthSlices, maskInterference, openSurvey, segmentBlocks } from "banquette";';
  const node = process.execPath;
  const plain = [node, compiled("wire/main.js"), connectionWord];
  const bare = [node, requireHere.resolve("tslab/bin/tslab"), "kernel", "--config-path"];
  const python = pythonWithKernel();
  return [
    { name: "tslab", argv: [...bare, connectionWord], cell },
    { name: "banquette", argv: installedArgv(prefix), cell, importing },
    { name: "no snapshot", argv: plain, cell, importing },
    ...(python !== undefined
      ? [
          {
            name: "ipykernel",
            argv: [python, "-m", "ipykernel_launcher", "-f", connectionWord],
            cell: (i: number) => `level_${i} = ${i}\nlevel_${i} + 1`,
          },
        ]
      : []),
  ];
}

function pythonWithKernel(): string | undefined {
  const { BANQUETTE_PYTHON_LAB: named, BANQUETTE_PYTHON_FOLDER: folder } = process.env;
  const own = join(folder ?? join(homedir(), ".cache", "banquette-ci"), "lab", "bin", "python");
  return [named ?? "python3", own].find(
    (one) => spawnSync(one, ["-c", "import ipykernel"]).status === 0,
  );
}

async function measureAll(
  all: readonly Candidate[],
  prefix: string,
): Promise<ReadonlyMap<string, Measured[]>> {
  const found = new Map<string, Measured[]>(all.map(({ name }) => [name, []]));
  const [tslab] = all;
  const alone = tslab === undefined ? null : await measured(tslab, 0, firstPatience_ms);
  const patience_ms = Math.max(20_000, patienceOverTslab * (alone?.first.wall_ms ?? 15_000));
  for (let round = 1; round <= rounds; round++) {
    for (const candidate of all) {
      console.error(`round ${round} of ${rounds}: ${candidate.name}`);
      const one = await measured(candidate, cells, patience_ms);
      if (one !== null) found.get(candidate.name)?.push(one);
    }
    const add = (name: string, one: Measured) => found.set(name, [...(found.get(name) ?? []), one]);
    add("compiler alone", compilerAlone(cells));
    add("snapshot alone", snapshotAlone(join(prefix, kernelFolder, "start.blob")));
    add("library alone", libraryAlone());
  }
  return found;
}

const prefix = mkdtempSync(join(tmpdir(), "bench-prefix-"));
try {
  printReport(await measureAll(candidates(prefix), prefix), cells);
} finally {
  rmSync(prefix, { recursive: true, force: true });
}
