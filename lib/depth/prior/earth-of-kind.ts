import type { Random } from "../../numerics/random.js";
import { type LayeredEarth, MOST_LAYERS } from "./earth-ensemble.js";
import { KINDS, type Kind } from "./kinds.js";

/** Resistivities of banks and their foundations, ohm-m (common practice). */
const LEAST_OHM_M = 2;
const MOST_OHM_M = 2000;
/** Depths of interfaces, m. */
const SHALLOWEST_M = 0.2;
const DEEPEST_M = 9;
/** Spread of a layer about a member's value, ln units: what the linearised response still holds. */
const MEMBER_SD = 0.2;
const GRADED_SD = 0.1;
/** Slow change with depth, as temperature and moisture bring: ln units for each of ln(1 + depth/m). */
const TREND_SD = 0.07;

/**
 * One earth of a kind: blocks with sharp interfaces or gradations, and roughness within them, so
 * that thin layers of strong contrast are among them. The figures are common practice; they cover
 * banks of 2 to 2000 ohm-m and contrasts of more than 100.
 */
export function earthOfKind(at: number, random: Random): Omit<LayeredEarth, "number"> {
  const kind = KINDS[at]!;
  const blocks = blocksOf(random, kind);
  const { rough, graded } = kind;
  const column = roughened(random, blocks, { graded, sd: rough });
  const sd = graded ? Math.max(GRADED_SD, Math.min(MEMBER_SD, rough)) : Math.min(MEMBER_SD, rough);
  return { ...column, kind: at, sd };
}

type Column = Pick<LayeredEarth, "lnConductivity" | "thickness_m">;

function blocksOf(random: Random, { interfaces, step }: Kind): Column {
  const depths = interfaceDepths(random, interfaces);
  const lnConductivity = [anyLevel(random)];
  while (lnConductivity.length <= interfaces) {
    const above = lnConductivity.at(-1)!;
    lnConductivity.push(
      step === null ? anyLevel(random) : within(above, () => step * random.normal()),
    );
  }
  return { lnConductivity, thickness_m: depths.map((z, j) => z - (depths[j - 1] ?? 0)) };
}

interface Roughening {
  /** Whether values run straight between the blocks' middles. */
  readonly graded: boolean;
  readonly sd: number;
}

/** Blocks cut into layers, with an autoregression over depth added; interfaces are kept. */
function roughened(random: Random, blocks: Column, { graded, sd }: Roughening) {
  const depths = cuts(random, blocks.thickness_m);
  const alike_m = logUniform(random, 0.2, 2);
  const lnConductivity: number[] = [];
  const block: number[] = [];
  let rough = random.normal();
  const trend = Math.min(TREND_SD, sd) * random.normal();
  for (let j = 0; j <= depths.length; j++) {
    const top = depths[j - 1] ?? 0;
    const middle = (top + (depths[j] ?? 1.4 * top)) / 2;
    const base = graded
      ? gradedAt(blocks, middle)
      : blocks.lnConductivity[blockAt(blocks, middle)]!;
    if (j > 0) {
      const alike = Math.exp(-(middle - (top + (depths[j - 2] ?? 0)) / 2) / alike_m);
      rough = alike * rough + Math.sqrt(1 - alike * alike) * random.normal();
    }
    lnConductivity.push(bounded(base + sd * rough + trend * Math.log1p(middle)));
    block.push(graded ? 0 : blockAt(blocks, middle));
  }
  return { lnConductivity, block, thickness_m: depths.map((z, j) => z - (depths[j - 1] ?? 0)) };
}

/** Interfaces of the blocks, and between them cuts at distances that grow with depth. */
function cuts(random: Random, thickness_m: readonly number[]): number[] {
  const depths: number[] = [];
  let z = 0;
  for (const t of thickness_m) {
    z += t;
    depths.push(z);
  }
  z = 0;
  while (depths.length < MOST_LAYERS - 1) {
    z += (0.2 + 0.14 * z) * (0.4 - 0.75 * Math.log(1 - random.uniform()));
    if (z > 1.3 * DEEPEST_M) break;
    depths.push(z);
  }
  depths.sort((a, b) => a - b);
  return depths.filter((depth, j) => j === 0 || depth - depths[j - 1]! > 0.05);
}

function blockAt({ thickness_m }: Column, depth_m: number): number {
  let base = 0;
  for (const [j, t] of thickness_m.entries()) {
    base += t;
    if (depth_m < base) return j;
  }
  return thickness_m.length;
}

/** Straight between the blocks' middles; constant above the first and below the last top. */
function gradedAt({ lnConductivity, thickness_m }: Column, depth_m: number): number {
  let top = 0;
  let before = 0;
  for (const [j, value] of lnConductivity.entries()) {
    const t = thickness_m[j];
    const middle = t === undefined ? 1.2 * top : top + t / 2;
    if (depth_m < middle) {
      if (j === 0) return value;
      const share = (depth_m - before) / (middle - before);
      return lnConductivity[j - 1]! + share * (value - lnConductivity[j - 1]!);
    }
    before = middle;
    top += t ?? 0;
  }
  return lnConductivity.at(-1)!;
}

/** Any level that banks have, all alike. */
function anyLevel(random: Random): number {
  return -Math.log(logUniform(random, LEAST_OHM_M, MOST_OHM_M));
}

function bounded(value: number): number {
  return Math.max(-Math.log(2 * MOST_OHM_M), Math.min(-Math.log(LEAST_OHM_M / 2), value));
}

/** A level plus a step that leaves it among the resistivities of banks. */
function within(level: number, step: () => number): number {
  for (let tries = 0; tries < 20; tries++) {
    const value = level + step();
    if (value > -Math.log(1.5 * MOST_OHM_M) && value < -Math.log(LEAST_OHM_M / 1.5)) return value;
  }
  return level;
}

function interfaceDepths(random: Random, count: number): number[] {
  for (;;) {
    const depths = Array.from({ length: count }, () => logUniform(random, SHALLOWEST_M, DEEPEST_M));
    depths.sort((a, b) => a - b);
    if (depths.every((z, j) => j === 0 || z - depths[j - 1]! > 0.15)) return depths;
  }
}

function logUniform(random: Random, least: number, most: number): number {
  return least * (most / least) ** random.uniform();
}
