// The kernel beside bare tslab and ipykernel, in turn on the same machine: from the start of the
// process to the first result, a small cell over 300 cells, importing the library, memory after 300
// cells; and TypeScript by itself, which a kernel that checks types cannot go below. Of each time, first the clock's, then the processors' (of the whole process), which says more
// on a loaded machine. The kernel is started with the words that `banquette kernel install` writes.
// Run: node dist/bench/kernel.js
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  type Candidate,
  compilerAlone,
  type Measured,
  measured,
  median,
} from "./kernel/measured.js";
import { type Cost, connectionWord } from "./kernel/started-kernel.js";

const cells = Number(process.env.BENCH_CELLS ?? 300);
const rounds = Number(process.env.BENCH_ROUNDS ?? 3);
/** Longest wait for an answer: so many times what tslab's first one took, and for that one, ms. */
const patienceOverTslab = 20;
const firstPatience_ms = 300_000;

const requireHere = createRequire(import.meta.url);
const compiled = (path: string) => fileURLToPath(new URL(`../kernels/${path}`, import.meta.url));

// As Jupyter reads it from the kernel's folder.
function installedArgv(prefix: string): readonly string[] {
  const install = [compiled("command/main.js"), "kernel", "install", "--prefix", prefix];
  const { status, stderr } = spawnSync(process.execPath, install, { encoding: "utf8" });
  if (status !== 0) throw new Error(`the kernel cannot be installed: ${stderr}`);
  const file = join(prefix, "share/jupyter/kernels/banquette/kernel.json");
  return (JSON.parse(readFileSync(file, "utf8")) as { readonly argv: readonly string[] }).argv;
}

function candidates(prefix: string): readonly Candidate[] {
  const cell = (i: number) => `let level_${i} = ${i};\nlevel_${i} + 1`;
  const importing =
    'import { correctDrift, estimateDepthSlices, maskInterference, openSurvey, segmentBlocks } from "banquette";';
  const node = process.execPath;
  const plain = [node, compiled("wire/main.js"), connectionWord];
  const bare = [node, requireHere.resolve("tslab/bin/tslab"), "kernel", "--config-path"];
  const python = ["python3", "-m", "ipykernel_launcher", "-f", connectionWord];
  const hasPython = spawnSync("python3", ["-c", "import ipykernel"]).status === 0;
  return [
    { name: "tslab", argv: [...bare, connectionWord], cell },
    { name: "banquette", argv: installedArgv(prefix), cell, importing },
    { name: "no snapshot", argv: plain, cell, importing },
    ...(hasPython
      ? [
          {
            name: "ipykernel",
            argv: python,
            cell: (i: number) => `level_${i} = ${i}\nlevel_${i} + 1`,
          },
        ]
      : []),
  ];
}

async function measureAll(all: readonly Candidate[]): Promise<ReadonlyMap<string, Measured[]>> {
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
    found.set("compiler alone", [...(found.get("compiler alone") ?? []), compilerAlone(cells)]);
  }
  return found;
}

type Row = readonly [what: string, figure: (one: Measured) => Cost | number, targets: string];

const rows: readonly Row[] = [
  ["start to first result, ms", ({ first }) => first, "400; 900 without snapshot"],
  [`a small cell of ${cells}, ms`, ({ cell }) => cell, "15"],
  ["  the first 50, ms", ({ firstCells }) => firstCells, ""],
  ["  the last 50, ms", ({ lastCells }) => lastCells, ""],
  ['import … from "banquette", ms', ({ imports }) => imports, "600"],
  [`resident memory after ${cells} cells, MB`, ({ memory_MB }) => memory_MB, "150"],
];

function print(found: ReadonlyMap<string, readonly Measured[]>): void {
  const line = (first: string, columns: readonly string[], last: string) =>
    console.log(`${first.padEnd(38)}${columns.map((one) => one.padStart(15)).join("")}   ${last}`);
  line("", [...found.keys()], "wanted under");
  for (const [what, figure, target] of rows) {
    line(
      what,
      [...found.values()].map((all) => shown(all.map(figure))),
      target,
    );
  }
  console.log("Medians over the rounds. Times: by the clock / of processors.");
}

function shown(figures: readonly (Cost | number)[]): string {
  const text = (values: readonly number[]) => {
    const value = median(values);
    return Number.isNaN(value) ? "–" : value.toFixed(value < 100 ? 1 : 0);
  };
  const costs = figures.filter((one): one is Cost => typeof one === "object");
  if (costs.length === 0) return text(figures.filter((one) => typeof one === "number"));
  const [wall, cpu] = [costs.map((one) => one.wall_ms), costs.map((one) => one.cpu_ms)];
  return text(wall) === "–" ? "–" : `${text(wall)} / ${text(cpu)}`;
}

const prefix = mkdtempSync(join(tmpdir(), "bench-prefix-"));
try {
  print(await measureAll(candidates(prefix)));
} finally {
  rmSync(prefix, { recursive: true, force: true });
}
