import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { type Cost, NoAnswer, type StartedKernel, startKernel } from "./started-kernel.js";

/** What was measured of one kernel; NaN where it was not asked for. */
export interface Measured {
  readonly first: Cost;
  readonly cell: Cost;
  readonly firstCells: Cost;
  readonly lastCells: Cost;
  readonly memory_MB: number;
  readonly imports: Cost;
}

/** A kernel to measure: the words that start it, and its language's cells. */
export interface Candidate {
  readonly name: string;
  readonly argv: readonly string[];
  /** A small cell. */
  readonly cell: (at: number) => string;
  /** The cell that imports the library, where it can. */
  readonly importing?: string;
}

const none: Cost = { wall_ms: Number.NaN, cpu_ms: Number.NaN };
const atEnds = 50;
/** A free port may be taken before a kernel listens on it: it is started so often at the most. */
const mostStarts = 3;

/** One kernel's figures; null where it never answered. */
export async function measured(
  candidate: Candidate,
  cells: number,
  patience_ms: number,
): Promise<Measured | null> {
  for (let start = 1; start <= mostStarts; start++) {
    const kernel = await startKernel(candidate.argv, patience_ms);
    try {
      return await figuresOf(kernel, candidate, cells);
    } catch (error) {
      if (!(error instanceof NoAnswer)) throw error;
      console.error(`no answer from ${candidate.name} within ${(patience_ms / 1000).toFixed(0)} s`);
    } finally {
      kernel.stop();
    }
  }
  return null;
}

async function figuresOf(
  kernel: StartedKernel,
  { cell, importing }: Candidate,
  cells: number,
): Promise<Measured> {
  await kernel.run("1 + 1");
  const first = kernel.cost();
  const costs: Cost[] = [];
  for (let i = 0; i < cells; i++) costs.push(await kernel.run(cell(i)));
  return {
    ...ofCells(costs),
    first,
    memory_MB: cells > 0 ? kernel.memory_MB() : Number.NaN,
    imports: importing === undefined ? none : await kernel.run(importing),
  };
}

/** TypeScript by itself, on as many small files: what a kernel that checks types cannot go below. */
export function compilerAlone(cells: number): Measured {
  const { first, costs, memory_MB } = printed<{
    readonly first: Cost;
    readonly costs: readonly Cost[];
    readonly memory_MB: number;
  }>([script("compiler-alone"), String(cells)]);
  return { ...ofCells(costs), first, memory_MB, imports: none };
}

/** Node from the installed kernel's snapshot, without the kernel: loading it, and its memory. */
export function snapshotAlone(snapshot: string): Measured {
  const before = performance.now();
  const words = ["--snapshot-blob", snapshot, "--eval", costsScript];
  const { cpu_ms, memory_MB } = printed<{ readonly cpu_ms: number; readonly memory_MB: number }>(
    words,
  );
  const first = { wall_ms: performance.now() - before, cpu_ms };
  return { ...ofCells([]), first, memory_MB, imports: none };
}

/** The library imported as JavaScript, without a check of types. */
export function libraryAlone(): Measured {
  const imports = printed<Cost>([script("library-alone")]);
  return { ...ofCells([]), first: none, memory_MB: Number.NaN, imports };
}

const costsScript =
  "const { user, system } = process.cpuUsage(); process.stdout.write(JSON.stringify(" +
  "{ cpu_ms: (user + system) / 1000, memory_MB: process.memoryUsage.rss() / 2 ** 20 }))";

const script = (name: string) => fileURLToPath(new URL(`./${name}.js`, import.meta.url));

function printed<Figures>(words: readonly string[]): Figures {
  const { stdout } = spawnSync(process.execPath, [...words], { encoding: "utf8" });
  return JSON.parse(stdout) as Figures;
}

function ofCells(costs: readonly Cost[]): Pick<Measured, "cell" | "firstCells" | "lastCells"> {
  return {
    cell: typical(costs),
    firstCells: typical(costs.slice(0, atEnds)),
    lastCells: typical(costs.slice(-atEnds)),
  };
}

// A cell's processor time is near the clock's tick: its mean over many cells, not their median.
function typical(costs: readonly Cost[]): Cost {
  const sum_ms = costs.reduce((sum, { cpu_ms }) => sum + cpu_ms, 0);
  return { wall_ms: median(costs.map((one) => one.wall_ms)), cpu_ms: sum_ms / costs.length };
}

/** NaN of none. */
export function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}
