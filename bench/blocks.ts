import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { findChangePoints } from "../lib/blocks/cut/find-change-points.js";
import { seededRandom } from "../lib/numerics/random.js";
import { type BenchRow, timedLong } from "./timed.js";

const COLUMNS = 6;
const script = fileURLToPath(new URL("../../bench/change-points.py", import.meta.url));

/**
 * Exact segmentation: growth with the length, with and without breaks, and side by side with a
 * general change-point library for Python (`ruptures`, where the python3 of the path, or the one
 * that BENCH_PYTHON names, can import it).
 */
export async function benchBlocks(): Promise<readonly BenchRow[]> {
  const rows: BenchRow[] = [];
  for (const every of [1000, Number.POSITIVE_INFINITY]) {
    const kind = every === 1000 ? "a break each 1,000" : "no break";
    for (const samples of [10_000, 100_000, 1_000_000]) {
      const columns = profile(samples, every);
      const what = `findChangePoints, ${samples.toLocaleString("en")} × 6, ${kind}`;
      rows.push(await timedLong(what, () => findChangePoints(columns, { noise: ones })));
    }
  }
  return [...rows, ...(await sideBySide())];
}

const ones = new Array<number>(COLUMNS).fill(1);

function profile(samples: number, every: number): Float64Array[] {
  const random = seededRandom(3);
  return ones.map(() => {
    let level = 0;
    return Float64Array.from({ length: samples }, (_, i) => {
      if (i % every === 0) level = 2 * random.normal();
      return level + random.normal();
    });
  });
}

const PENALTY = 60;

async function sideBySide(): Promise<readonly BenchRow[]> {
  const python = process.env.BENCH_PYTHON ?? "python3";
  const there = spawnSync(python, ["-c", "import ruptures"]).status === 0;
  if (!there) {
    return [
      {
        what: "ruptures cannot be imported: no side by side (BENCH_PYTHON)",
        microseconds: Number.NaN,
      },
    ];
  }
  const rows: BenchRow[] = [];
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  for (const [every, kind] of [
    [200, "a break each 200"],
    [1000, "a break each 1,000"],
    [Number.POSITIVE_INFINITY, "no break"],
  ] as const) {
    const columns = profile(20_000, every);
    const options = { noise: ones, penalty: PENALTY };
    const what = `20,000 × 6, ${kind}`;
    const ours = await timedLong(
      `findChangePoints, ${what}`,
      () => findChangePoints(columns, options),
      7,
    );
    const optimum = findChangePoints(columns, options).objective;
    const data = join(folder, "signal.f64");
    writeFileSync(
      data,
      Float64Array.from(
        { length: 20_000 * COLUMNS },
        (_, i) => columns[i % COLUMNS]![Math.floor(i / COLUMNS)]!,
      ),
    );
    rows.push(ours);
    for (const solver of ["kernel", "pelt"] as const) {
      // Python without C takes minutes to hours where breaks are rare.
      if (solver === "pelt" && every !== 200) continue;
      const args = [script, data, "20000", String(COLUMNS), String(PENALTY), solver];
      const [seconds, , found] = spawnSync(python, args)
        .stdout.toString()
        .trim()
        .split(" ")
        .map(Number);
      const same = Math.abs(found! - optimum) < 1e-6 * optimum ? "same optimum" : "ANOTHER OPTIMUM";
      const factor = (1e6 * seconds!) / ours.microseconds;
      const name = solver === "kernel" ? "ruptures KernelCPD (C)" : "ruptures Pelt";
      rows.push({
        what: `${name}, the same: ${same}, × ${factor.toFixed(1)}`,
        microseconds: 1e6 * seconds!,
      });
    }
  }
  rmSync(folder, { recursive: true });
  return rows;
}
