import type { Random } from "../../../numerics/random.js";
import {
  type EarthEnsemble,
  ensembleOf,
  type LayeredEarth,
  MOST_LAYERS,
} from "./earth-ensemble.js";

/** Resistivities of banks and their foundations, ohm-m (common practice). */
const LEAST_OHM_M = 2;
const MOST_OHM_M = 2000;
/** ln conductivity of the usual fill, and its spread. */
const USUAL = -Math.log(45);
const LEVEL_SD = 1.9;
/** Depths of interfaces, m. */
const SHALLOWEST_M = 0.2;
const DEEPEST_M = 9;
/** Spread of a layer about a member's value, ln units: what the linearised response still holds. */
const MEMBER_SD = 0.2;
/** Roughness by layers of its own, ln units, and the shares of columns that have it. */
const ROUGH = [0.1, 0.35, 0.7, 1.1] as const;
const ROUGH_SHARES = [0.05, 0.2, 0.35, 0.4] as const;
/** Share of columns whose values run straight between the middles of the blocks. */
const GRADED_SHARE = 0.5;
/** Interfaces of the large structure: none, one, two, three. */
const BLOCK_SHARES = [0.25, 0.35, 0.25, 0.15] as const;

/** Number of classes of `priorEarths`: numbers of interfaces × roughness × sharp or graded. */
export const CLASSES = 2 * BLOCK_SHARES.length * ROUGH.length;

/** Shares of the classes before the data. */
export const CLASS_SHARES = Float64Array.from({ length: CLASSES }, (_, at) => {
  const rough = ROUGH_SHARES[(at >> 1) % ROUGH.length]!;
  const blocks = BLOCK_SHARES[Math.floor(at / (2 * ROUGH.length))]!;
  return rough * blocks * (at % 2 === 1 ? GRADED_SHARE : 1 - GRADED_SHARE);
});

/**
 * K earths of a broad prior, all of one weight: blocks with sharp interfaces or gradations, and
 * roughness within them, so that thin layers of strong contrast are among them. The figures are
 * common practice; they cover banks of 2 to 2000 ohm-m and contrasts of more than 100.
 */
export function priorEarths(count: number, random: Random): EarthEnsemble {
  const earths = Array.from({ length: count }, () => priorEarth(random));
  return ensembleOf(earths, {
    sd: Float64Array.from(earths, () => MEMBER_SD),
    logWeight: new Float64Array(count).fill(-Math.log(count)),
  });
}

/** One draw: a few blocks, sharp or graded, and roughness within them. */
function priorEarth(random: Random): LayeredEarth {
  const interfaces = pick(random, BLOCK_SHARES);
  const rough = pick(random, ROUGH_SHARES);
  const blocks = blocksOf(random, interfaces + 1);
  const graded = random.uniform() < GRADED_SHARE;
  const column = roughened(random, blocks, { graded, sd: ROUGH[rough]! });
  return { ...column, kind: (interfaces * ROUGH.length + rough) * 2 + (graded ? 1 : 0) };
}

type Column = Pick<LayeredEarth, "lnConductivity" | "thickness_m">;

function blocksOf(random: Random, layers: number): Column {
  const depths = interfaceDepths(random, layers - 1);
  const scale = [0.4, 0.9, 1.8][pick(random, [0.25, 0.25, 0.2, 0.3])];
  const lnConductivity = [anyLevel(random)];
  while (lnConductivity.length < layers) {
    const above = lnConductivity.at(-1)!;
    lnConductivity.push(
      scale === undefined ? anyLevel(random) : within(above, () => scale * random.normal()),
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
function roughened(random: Random, blocks: Column, { graded, sd }: Roughening): Column {
  const depths = cuts(random, blocks.thickness_m);
  const alike_m = logUniform(random, 0.2, 1.5);
  const lnConductivity: number[] = [];
  let rough = random.normal();
  for (let j = 0; j <= depths.length; j++) {
    const top = depths[j - 1] ?? 0;
    const middle = (top + (depths[j] ?? 1.4 * top)) / 2;
    const base = graded ? gradedAt(blocks, middle) : blockAt(blocks, middle);
    if (j > 0) {
      const alike = Math.exp(-(middle - (top + (depths[j - 2] ?? 0)) / 2) / alike_m);
      rough = alike * rough + Math.sqrt(1 - alike * alike) * random.normal();
    }
    lnConductivity.push(bounded(base + sd * rough));
  }
  return { lnConductivity, thickness_m: depths.map((z, j) => z - (depths[j - 1] ?? 0)) };
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

function blockAt({ lnConductivity, thickness_m }: Column, depth_m: number): number {
  let base = 0;
  for (const [j, t] of thickness_m.entries()) {
    base += t;
    if (depth_m < base) return lnConductivity[j]!;
  }
  return lnConductivity.at(-1)!;
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

function anyLevel(random: Random): number {
  for (;;) {
    const value = USUAL + LEVEL_SD * random.normal();
    if (value > -Math.log(MOST_OHM_M) && value < -Math.log(LEAST_OHM_M)) return value;
  }
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

function pick(random: Random, shares: readonly number[]): number {
  let left = random.uniform();
  const index = shares.findIndex((share) => {
    left -= share;
    return left < 0;
  });
  return index < 0 ? shares.length - 1 : index;
}
