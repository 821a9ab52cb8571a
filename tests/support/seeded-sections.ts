import { neighbours } from "../../lib/numerics/arrays.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { Section } from "../../lib/sections/section.js";
import { sectionResponse } from "../../lib/sections/section-response.js";
import type { ResistivityLine } from "../../lib/survey/resistivity-line.js";
import { dipoleSpreads, electrodesAt, measuredAs, wennerSpreads } from "./electrode-lines.js";

/** Ground with a body in it, ohm-m by place along the line and depth below the surface. */
export interface SeededGround {
  readonly kind: "sand lens" | "conductive core" | "step at the toe";
  readonly ground: (x_m: number, depth_m: number) => number;
  /** The same without the body. */
  readonly host: (x_m: number, depth_m: number) => number;
  readonly isBody: (x_m: number, depth_m: number) => boolean;
  readonly elevation_m: (x_m: number) => number;
}

export const SEEDED_ELECTRODES = 32;
const LENGTH_M = SEEDED_ELECTRODES - 1;

/** A body in two layers under a crust, with a grain of up to 12 %; sizes, places, contrasts vary. */
export function seededGround(seed: number): SeededGround {
  const random = seededRandom(seed);
  const within = (low: number, high: number) => low + (high - low) * random.uniform();
  const kind = (["sand lens", "conductive core", "step at the toe"] as const)[seed % 3]!;
  const fill = Math.exp(within(Math.log(20), Math.log(80)));
  const [crust, below] = [fill * Math.exp(within(-0.2, 1)), fill * Math.exp(within(-0.8, 0.8))];
  const [crust_m, base_m] = [within(0.3, 0.9), within(3, 5)];
  const grain = grainOf(within);
  const layers = (depth_m: number) => (depth_m < crust_m ? crust : depth_m < base_m ? fill : below);
  const host = (x: number, z: number) => layers(z) * grain(x, z);
  const { isBody, ratio } = bodyOf(kind, within);
  const ground = (x: number, z: number) => (isBody(x, z) ? fill * ratio * grain(x, z) : host(x, z));
  const toe_m = within(0.35, 0.65) * LENGTH_M;
  const elevation_m = (x: number) =>
    kind === "step at the toe" ? Math.min(2, Math.max(0, (toe_m - x) / 3)) : 0;
  return { kind, ground, host, isBody, elevation_m };
}

type Within = (low: number, high: number) => number;

function grainOf(within: Within) {
  const [size, along, down, length] = [within(0, 0.12), within(0, 6), within(0, 6), within(3, 10)];
  return (x: number, z: number) =>
    Math.exp(size * Math.sin((2 * Math.PI * x) / length + along) * Math.sin(3 * z + down));
}

function bodyOf(kind: SeededGround["kind"], within: Within) {
  const middle = within(0.3, 0.7) * LENGTH_M;
  if (kind === "step at the toe") {
    const top = within(0.5, 1.5);
    const ratio = Math.exp((within(-1, 1) > 0 ? 1 : -1) * within(0.8, 1.6));
    return { ratio, isBody: (x: number, z: number) => x > middle && z > top };
  }
  const isLens = kind === "sand lens";
  const half = isLens ? within(3, 7) : within(1.5, 4);
  const top = isLens ? within(0.8, 2) : within(0.7, 1.5);
  const base = isLens ? top + within(1.2, 2.5) : 6;
  const ratio = Math.exp((isLens ? 1 : -1) * within(1, 1.8));
  return {
    ratio,
    isBody: (x: number, z: number) => Math.abs(x - middle) < half && z > top && z < base,
  };
}

/** The line as measured over it: finer cells and grid than an inversion's, noise as stated. */
export function seededLine(truth: SeededGround, seed: number, noise = 0.03): ResistivityLine {
  const electrodes = electrodesAt(SEEDED_ELECTRODES, truth.elevation_m);
  const spreads = [
    ...wennerSpreads(SEEDED_ELECTRODES, [1, 2, 3, 4, 6, 8, 10]),
    ...dipoleSpreads(SEEDED_ELECTRODES, [1, 2, 3, 4, 5, 6]),
  ];
  const apparent_ohm_m = sectionResponse(fineEarth(truth), electrodes, spreads, {
    cellsPerSpacing: 4,
  });
  return measuredAs({ electrodes, spreads, apparent_ohm_m, noise, seed: seed + 5000 });
}

/** Cells that meet none of an inversion's edges. */
function fineEarth({ ground }: Pick<SeededGround, "ground">) {
  const x_m = Array.from({ length: 3 * (LENGTH_M + 10) }, (_, i) => -5 + i / 3 + 0.11);
  const depth_m = [0];
  for (let z = 0; z < 11; ) {
    z += 0.23 + 0.06 * z;
    depth_m.push(z);
  }
  const middles = (edges: readonly number[]) =>
    neighbours(edges).map(([from, to]) => (from + to) / 2);
  const resistivity_ohm_m = middles(depth_m).map((z) => middles(x_m).map((x) => ground(x, z)));
  return { x_m, depth_m, resistivity_ohm_m };
}

/** How a section compares with the truth, over its reliable cells under the electrodes. */
export interface SectionScore {
  readonly cells: number;
  /** Cells whose true mean of ln ρ lies below the 10 %, and above the 90 % quantile. */
  readonly below: number;
  readonly above: number;
  /** Root mean square of (estimate − truth) / standard deviation. */
  readonly scaled: number;
  /** Of log10 ρ. */
  readonly rmse: number;
  /** Share of the body's area above the last row that is reliable. */
  readonly claimed: number;
  /** Area that body and half-contrast body share, over the area of both, in reliable cells. */
  readonly overlap: number;
}

export function scoreOf({ cells }: Section, truth: SeededGround): SectionScore {
  const down = cells.depth_m.length - 1;
  const at = {
    cells: 0,
    below: 0,
    above: 0,
    square: 0,
    error: 0,
    body: 0,
    known: 0,
    both: 0,
    either: 0,
  };
  for (let c = 0; c < cells.reliable.length; c++) {
    const [i, j] = [Math.floor(c / down), c % down];
    const box = [
      cells.x_m[i]!,
      cells.x_m[i + 1]!,
      cells.depth_m[j]!,
      cells.depth_m[j + 1]!,
    ] as const;
    if (box[0] < 0 || box[1] > LENGTH_M || j === down - 1) continue;
    const area = (box[1] - box[0]) * (box[3] - box[2]);
    const share = meanOver(box, (x, z) => (truth.isBody(x, z) ? 1 : 0));
    at.body += share * area;
    if (cells.reliable[c] !== 1) continue;
    at.known += share * area;
    const value = meanOver(box, (x, z) => Math.log10(truth.ground(x, z)));
    const away = cells.log10Resistivity[c]! - value;
    at.cells += 1;
    if (10 ** value < cells.p10_ohm_m[c]!) at.below += 1;
    if (10 ** value > cells.p90_ohm_m[c]!) at.above += 1;
    at.square += (away / cells.log10Sd[c]!) ** 2;
    at.error += away ** 2;
    const found = isFound(cells.log10Resistivity[c]!, box, truth);
    if (share >= 0.5 && found) at.both += area;
    if (share >= 0.5 || found) at.either += area;
  }
  return {
    ...{ cells: at.cells, below: at.below, above: at.above },
    scaled: Math.sqrt(at.square / at.cells),
    rmse: Math.sqrt(at.error / at.cells),
    claimed: at.known / at.body,
    overlap: at.both / at.either,
  };
}

type Box = readonly [number, number, number, number];

function meanOver([left, right, top, base]: Box, of: (x: number, z: number) => number): number {
  let sum = 0;
  for (let p = 0; p < 8; p++) {
    for (let q = 0; q < 8; q++) {
      sum += of(left + ((p + 0.5) / 8) * (right - left), top + ((q + 0.5) / 8) * (base - top));
    }
  }
  return sum / 64;
}

/** True beyond the middle, on a log scale, of what is there without the body and the body. */
function isFound(log10: number, box: Box, { host, ground, isBody }: SeededGround): boolean {
  const bodyValue = bodyLog10({ ground, isBody });
  const hostValue = meanOver(box, (x, z) => Math.log10(host(x, z)));
  return (log10 - (hostValue + bodyValue) / 2) * (bodyValue - hostValue) > 0;
}

function bodyLog10({ ground, isBody }: Pick<SeededGround, "ground" | "isBody">): number {
  let [sum, count] = [0, 0];
  for (let x = 0; x <= LENGTH_M; x += 0.25) {
    for (let z = 0.2; z < 6; z += 0.2) {
      if (!isBody(x, z)) continue;
      sum += Math.log10(ground(x, z));
      count += 1;
    }
  }
  return sum / count;
}
