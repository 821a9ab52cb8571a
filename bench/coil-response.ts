import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { coilKernel, kernelSampling } from "../lib/earth/coil-kernel.js";
import { coilWeights, wavenumbers } from "../lib/earth/coil-quadrature.js";
import { MU_0 } from "../lib/earth/coil-reflection.js";
import { coilResponse } from "../lib/earth/coil-response.js";
import { type BenchRow, timed } from "./timed.js";

const FREQUENCIES_HZ = [1500, 4800, 12000, 27000, 60000];
const ORIENTATIONS = ["HCP", "VCP"] as const;
const COILS = { separation_m: 1.8, height_m: 0.9 };
const THICKNESS_M = Array.from({ length: 19 }, (_, i) => 0.2 * 1.1 ** i);
const MODEL = Float64Array.from({ length: 20 }, (_, i) => Math.log(0.02 + 0.002 * i));

/** The public response of 25 layers, and the inversion's kernel beside C and NumPy. */
export function benchCoilResponse(): readonly BenchRow[] {
  const earth = {
    conductivity_S_per_m: Array.from({ length: 25 }, (_, i) => 0.01 + 0.002 * i),
    thickness_m: new Array<number>(24).fill(0.3),
  };
  const coils = { orientation: "HCP", separation_m: 1.8, frequency_Hz: 12000 } as const;
  return [
    timed("coilResponse, 25 layers, at 0.9 m", () =>
      coilResponse(earth, { ...coils, height_m: 0.9 }),
    ),
    timed("coilResponse, 25 layers, on the ground", () =>
      coilResponse(earth, { ...coils, height_m: 0 }),
    ),
    ...sideBySide(),
  ];
}

/** What the other programs are told to do, and what the kernel does itself. */
type Command = "v" | "d";

interface Timing {
  readonly microseconds: number;
  /** Of all results, by which the programs are seen to compute the same. */
  readonly sum: number;
}

type Runner = (command: Command, times: number) => Timing;

/** Ours and theirs by turns, in one run; a program that is not there is said to be left out. */
function sideBySide(): readonly BenchRow[] {
  const folder = mkdtempSync(join(tmpdir(), "banquette-bench-"));
  try {
    const compiled = compile(join(folder, "coil-response"));
    const python = process.env.BENCH_PYTHON ?? "python3";
    const numpy = spawnSync(python, ["-c", "import numpy"]).status === 0;
    return [
      ...duel("20 layers, 10 channels", "v", { other: compiled, name: "C, -O2" }),
      ...duel("20 layers, 10 channels, derivatives", "d", { other: compiled, name: "C, -O2" }),
      ...duel("20 layers, 10 channels", "v", {
        other: numpy ? runner(python, [source("coil-response.py")]) : null,
        name: "NumPy, 200 models at once",
      }),
    ];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const source = (name: string) => fileURLToPath(new URL(`../../bench/${name}`, import.meta.url));

/** Null where there is no C compiler. */
function compile(to: string): Runner | null {
  const built = spawnSync("cc", ["-O2", "-o", to, source("coil-response.c"), "-lm"]);
  return built.status === 0 ? runner(to, []) : null;
}

const ROUNDS = 9;
const TIMES = 2000;

function duel(
  what: string,
  command: Command,
  { other, name }: { readonly other: Runner | null; readonly name: string },
): readonly BenchRow[] {
  const ours = kernelRunner();
  ours(command, TIMES);
  const mine: Timing[] = [];
  const theirs: Timing[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    mine.push(ours(command, TIMES));
    if (other !== null) theirs.push(other(command, TIMES));
  }
  const row = { what: `coil kernel, ${what}`, microseconds: middle(mine) };
  if (other === null)
    return [row, { what: `${name}: not there, left out`, microseconds: Number.NaN }];
  const ratio = (middle(mine) / middle(theirs)).toFixed(2);
  const off = Math.abs(theirs[0]!.sum - mine[0]!.sum);
  const same = off < 2e-6 * Math.abs(mine[0]!.sum) ? "same result" : "ANOTHER RESULT";
  const text = `${name}, the same: ${same}, kernel takes × ${ratio}`;
  return [row, { what: text, microseconds: middle(theirs) }];
}

function middle(timings: readonly Timing[]): number {
  const sorted = timings.map((one) => one.microseconds).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}

const channels = FREQUENCIES_HZ.flatMap((frequency_Hz) =>
  ORIENTATIONS.map((orientation) => ({ orientation, separation_m: 1.8, frequency_Hz })),
);

function kernelRunner(): Runner {
  const kernel = coilKernel({ thickness_m: THICKNESS_M, height_m: COILS.height_m, channels });
  const full = kernel.output();
  const { inphase_ppm, quadrature_ppm } = full;
  return (command, times) => {
    const out = command === "d" ? full : { inphase_ppm, quadrature_ppm };
    const start = performance.now();
    for (let i = 0; i < times; i++) kernel.evaluate(MODEL, out);
    const microseconds = (1e3 * (performance.now() - start)) / times;
    const jacobian =
      command === "d" ? [full.jacobian!.inphase_ppm, full.jacobian!.quadrature_ppm] : [];
    const sum =
      total([inphase_ppm, quadrature_ppm]) + total(jacobian.map((part) => part.map(Math.abs)));
    return { microseconds, sum };
  };
}

function total(parts: readonly Float64Array[]): number {
  return parts.reduce((sum, part) => sum + part.reduce((all, value) => all + value, 0), 0);
}

/** Another program that reads the problem and the command from its standard input. */
function runner(program: string, args: readonly string[]): Runner {
  const problem = problemText();
  return (command, times) => {
    const input = `${problem}\n${command} ${times}\n`;
    const ran = spawnSync(program, args, { input });
    if (ran.status !== 0) throw new Error(String(ran.stderr));
    const [seconds, sum] = ran.stdout.toString().trim().split(" ").map(Number);
    return { microseconds: (1e6 * seconds!) / times, sum: sum! };
  };
}

function problemText(): string {
  const sampling = kernelSampling({ thickness_m: THICKNESS_M, height_m: COILS.height_m, channels });
  const nodes = wavenumbers(sampling, COILS.height_m, [COILS.separation_m]);
  const weights = channels.map((channel) =>
    coilWeights(nodes, sampling, { ...COILS, ...channel }).map((weight) => 1e6 * weight),
  );
  const points = nodes.wavenumber_per_m.length;
  const lines: readonly ArrayLike<number>[] = [
    [MODEL.length, points, FREQUENCIES_HZ.length, ORIENTATIONS.length],
    nodes.wavenumber_per_m,
    THICKNESS_M,
    FREQUENCIES_HZ.map((frequency_Hz) => 2 * Math.PI * frequency_Hz * MU_0),
    MODEL.map(Math.exp),
    ...weights,
  ];
  return lines.map((line) => Array.from(line).join(" ")).join("\n");
}
