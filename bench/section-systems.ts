import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { type BandMatrix, factorBanded, solveBanded } from "../lib/numerics/algebra/banded.js";
import { sectionCells } from "../lib/sections/model/section-cells.js";
import { elementsOf, sectionModel } from "../lib/sections/model/section-model.js";
import { systemFor } from "../lib/sections/section-elements.js";
import { electrodeNodes } from "../lib/sections/section-potentials.js";
import type { BenchRow } from "./timed.js";

const WAVENUMBER_PER_M = 0.1;
const script = fileURLToPath(new URL("../../bench/sparse-lu.py", import.meta.url));

/** One system of a line's forward model: its order, its sources, and how it is set up. */
interface System {
  readonly setUp: () => BandMatrix;
  readonly nodes: Int32Array;
}

/**
 * Factorisation and solves at one wavenumber, beside SciPy's sparse LU on the same matrix (where
 * the python3 of the path, or the one named in BENCH_PYTHON, has SciPy).
 */
export function benchSectionSystems(counts: readonly number[]): readonly BenchRow[] {
  const python = process.env.BENCH_PYTHON ?? "python3";
  const isThere = spawnSync(python, ["-c", "import scipy"]).status === 0;
  return counts.flatMap((count) => {
    const system = systemOf(count);
    const ours = ourTiming(system);
    const { size, halfBandwidth } = system.setUp();
    const what = `section: factor (order ${size}, band ${halfBandwidth}), ${count} solves`;
    const row = { what, microseconds: ours.microseconds };
    if (!isThere) return [row, { what: "SciPy: not there, left out", microseconds: Number.NaN }];
    const theirs = sparseTiming(system, python);
    const ratio = (ours.microseconds / theirs.microseconds).toFixed(2);
    const isSame = Math.abs(ours.sum - theirs.sum) < 1e-9 * ours.sum;
    const text = `SciPy's sparse LU: ${isSame ? "same result" : "ANOTHER RESULT"}, × ${ratio}`;
    return [row, { what: text, microseconds: theirs.microseconds }];
  });
}

function systemOf(count: number): System {
  const electrodes = Array.from({ length: count }, (_, x_m) => ({ x_m, elevation_m: 0 }));
  const cells = sectionCells(
    electrodes.map(({ x_m }) => x_m),
    { columnsPerSpacing: 1, depth_m: count / 4 },
  );
  const model = sectionModel(cells, electrodes, { cellsPerSpacing: 2.5, wavenumberStep: 0.9 });
  const elements = elementsOf(model, new Float64Array(model.patches.length).fill(50));
  return {
    setUp: () => systemFor(elements, WAVENUMBER_PER_M),
    nodes: electrodeNodes(model.grid, elements),
  };
}

interface Timing {
  readonly microseconds: number;
  /** Of the solutions at their sources. */
  readonly sum: number;
}

/** The fastest of nine, as of the other. */
function ourTiming({ setUp, nodes }: System): Timing {
  const m = nodes.length;
  let [microseconds, sum] = [Infinity, 0];
  for (let round = 0; round < 9; round++) {
    const system = setUp();
    const columns = new Float64Array(system.size * m);
    nodes.forEach((node, e) => {
      columns[node * m + e] = 1;
    });
    const start = performance.now();
    factorBanded(system);
    solveBanded(system, columns, { m, starts: nodes });
    microseconds = Math.min(microseconds, 1e3 * (performance.now() - start));
    sum = total(nodes, (row, e) => columns[row * m + e]!);
  }
  return { microseconds, sum };
}

/** Over all pairs of nodes. */
function total(nodes: Int32Array, at: (row: number, e: number) => number): number {
  return nodes.reduce((all, row) => nodes.reduce((sum, _, e) => sum + at(row, e), all), 0);
}

function sparseTiming({ setUp, nodes }: System, python: string): Timing {
  const { size, halfBandwidth: b, lower } = setUp();
  const entries: (readonly [number, number, number])[] = [];
  lower.forEach((value, at) => {
    const i = Math.floor(at / (b + 1));
    const j = (at % (b + 1)) - b + i;
    if (value === 0) return;
    entries.push([i, j, value]);
    if (i !== j) entries.push([j, i, value]);
  });
  const parts = [0, 1, 2].flatMap((k) => entries.map((entry) => entry[k]!));
  const numbers = [[size, entries.length, nodes.length], parts, Array.from(nodes)];
  const input = Float64Array.from(numbers.flat());
  const ran = spawnSync(python, [script], { input: new Uint8Array(input.buffer) });
  if (ran.status !== 0) throw new Error(String(ran.stderr));
  const [factor_s, solve_s, sum] = ran.stdout.toString().trim().split(" ").map(Number);
  return { microseconds: 1e6 * (factor_s! + solve_s!), sum: sum! };
}
