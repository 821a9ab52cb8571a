import { type CoilKernel, coilKernel } from "../../earth/coil-kernel.js";
import { lowInductionConductivity } from "../../earth/half-space.js";
import { choleskyFactor, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { type Described, ppmOf } from "./described.js";
import type { Station } from "./sample-stations.js";

/** How layered ground fits a station's readings. */
export interface StationFit {
  /** Root mean square of the residuals and of what the ground is unlikely by, in tolerances. */
  readonly misfit: number;
  /** Reading less response over its tolerance; NaN where there is no reading. */
  readonly residuals: readonly number[];
  /** Reading over response; NaN where there is no reading. */
  readonly ratios: readonly number[];
}

/** Thicknesses of the layers over the longest separation; the last layer goes on. */
const LAYERS = [0.25, 0.35, 0.5, 0.9] as const;
const COUNT = LAYERS.length + 1;
/** What a reading may be off by: a share of itself, and a zero with some drift, ppm. */
const SHARE = 0.04;
const FLOOR_PPM = { quadrature: 25, inphase: 60, conductivity: 25 } as const;
/** Standard deviations of ln conductivity: from layer to layer, and about 30 mS/m. */
const STEP_SD = 1.2;
const LEVEL_SD = 2.5;
const LN_LEVEL = Math.log(0.03);
/** Residuals beyond this many tolerances pull no harder. */
const HUBER = 1.5;
const ROUNDS = 12;

/**
 * Layered ground fitted to one station after the other by damped Gauss-Newton with Huber weights.
 * Made once for a description of the channels; kernels are kept by height.
 */
export function stationFitter(
  described: readonly Described[],
  wander: readonly number[],
): (station: Station) => StationFit {
  const kernels = new Map<number, CoilKernel>();
  const longest_m = Math.max(...described.map(({ separation_m }) => separation_m));
  const thickness_m = LAYERS.map((share) => share * longest_m);
  const kernelAt = (height_m: number) => {
    const rounded = Math.round(50 * Math.max(0, height_m)) / 50;
    const known = kernels.get(rounded);
    if (known !== undefined) return known;
    const made = coilKernel({ thickness_m, height_m: rounded, channels: described });
    kernels.set(rounded, made);
    return made;
  };
  const floor_ppm = described.map((one) => {
    const wander_ppm = Math.abs(itemAt(wander, one.column) * ppmOf(one));
    // What is scaled down is not hidden under the floor of what it was.
    return Math.hypot(FLOOR_PPM[one.kind] * Math.min(1, Math.abs(one.factor)), wander_ppm);
  });
  return (station) => fitted(dataOf(station, { described, floor_ppm, kernelAt }));
}

interface Prepared {
  readonly described: readonly Described[];
  readonly floor_ppm: readonly number[];
  readonly kernelAt: (height_m: number) => CoilKernel;
}

interface Data {
  readonly described: readonly Described[];
  /** For each channel, ppm; NaN where missing. */
  readonly value_ppm: readonly number[];
  readonly sd_ppm: readonly number[];
  readonly kernels: readonly (CoilKernel | null)[];
}

function dataOf({ values, height_m }: Station, { described, floor_ppm, kernelAt }: Prepared): Data {
  const value_ppm = described.map((one) => itemAt(values, one.column) * ppmOf(one));
  const sd_ppm = value_ppm.map((value, c) => Math.hypot(itemAt(floor_ppm, c), SHARE * value));
  const kernels = described.map((one, c) =>
    Number.isNaN(itemAt(value_ppm, c)) ? null : kernelAt(itemAt(height_m, one.column)),
  );
  return { described, value_ppm, sd_ppm, kernels };
}

interface Trial {
  readonly ln: Float64Array;
  /** Huber's cost with the prior's: what is made least. */
  readonly cost: number;
  readonly prior: number;
  readonly response_ppm: Float64Array;
  /** c × layers. */
  readonly jacobian_ppm: Float64Array;
}

function fitted(data: Data): StationFit {
  let best = tried(data, new Float64Array(COUNT).fill(startOf(data)));
  let damping = 0.1;
  for (let round = 0; round < ROUNDS && damping < 1e4; round++) {
    const next = tried(data, stepFrom(data, best, damping));
    if (next.cost < best.cost) {
      const gained = best.cost - next.cost;
      best = next;
      damping /= 5;
      if (gained < 1e-3 * (1 + best.cost)) break;
    } else {
      damping *= 8;
    }
  }
  const residuals = residualsOf(data, best.response_ppm);
  const present = residuals.filter((r) => !Number.isNaN(r));
  const sum = present.reduce((total, r) => total + r * r, 0);
  return {
    misfit: Math.sqrt((sum + best.prior) / present.length),
    residuals,
    ratios: data.value_ppm.map((value, c) => value / valueAt(best.response_ppm, c)),
  };
}

/** ln conductivity of the half-space by the channels' median. */
function startOf({ described, value_ppm }: Data): number {
  const shown = described.map((one, c) =>
    one.kind === "inphase" ? Number.NaN : lowInductionConductivity(itemAt(value_ppm, c), one),
  );
  const typical = median(shown.filter((value) => value > 0));
  return Math.log(Math.min(0.5, Math.max(0.002, Number.isNaN(typical) ? 0.03 : typical)));
}

function tried({ described, kernels, ...data }: Data, ln: Float64Array): Trial {
  const response_ppm = new Float64Array(described.length).fill(Number.NaN);
  const jacobian_ppm = new Float64Array(described.length * COUNT);
  for (const kernel of new Set(kernels)) {
    if (kernel === null) continue;
    const out = kernel.output();
    kernel.evaluate(ln, out);
    for (const [c, { kind }] of described.entries()) {
      if (kernels[c] !== kernel) continue;
      const part = kind === "inphase" ? "inphase_ppm" : "quadrature_ppm";
      response_ppm[c] = valueAt(out[part], c);
      const row = out.jacobian[part].subarray(c * COUNT, (c + 1) * COUNT);
      jacobian_ppm.set(row, c * COUNT);
    }
  }
  const prior = priorCost(ln);
  const residuals = residualsOf(data, response_ppm);
  const cost = residuals.reduce((sum, r) => sum + (Number.isNaN(r) ? 0 : huber(r)), prior);
  return { ln, cost, prior, response_ppm, jacobian_ppm };
}

function residualsOf(
  { value_ppm, sd_ppm }: Pick<Data, "value_ppm" | "sd_ppm">,
  response_ppm: Float64Array,
): readonly number[] {
  return value_ppm.map((value, c) => (value - valueAt(response_ppm, c)) / itemAt(sd_ppm, c));
}

const huber = (r: number) =>
  Math.abs(r) <= HUBER ? r * r : 2 * HUBER * Math.abs(r) - HUBER * HUBER;

function priorCost(ln: Float64Array): number {
  return ln.reduce((sum, value, j) => {
    const step = j === 0 ? 0 : (value - valueAt(ln, j - 1)) / STEP_SD;
    const level = (value - LN_LEVEL) / LEVEL_SD;
    return sum + step * step + (level * level) / COUNT;
  }, 0);
}

/** One damped Gauss-Newton step, no layer by more than a factor of e². */
function stepFrom(data: Data, { ln, response_ppm, jacobian_ppm }: Trial, damping: number) {
  const matrix = new Float64Array(COUNT * COUNT);
  const right = new Float64Array(COUNT);
  addPrior(ln, matrix, right);
  for (const [c, r] of residualsOf(data, response_ppm).entries()) {
    if (Number.isNaN(r)) continue;
    const weight = Math.min(1, HUBER / Math.abs(r));
    const row = jacobian_ppm
      .subarray(c * COUNT, (c + 1) * COUNT)
      .map((slope) => slope / itemAt(data.sd_ppm, c));
    for (let i = 0; i < COUNT; i++) {
      right[i] = valueAt(right, i) + weight * r * valueAt(row, i);
      for (let j = 0; j < COUNT; j++) {
        const at = i * COUNT + j;
        matrix[at] = valueAt(matrix, at) + weight * valueAt(row, i) * valueAt(row, j);
      }
    }
  }
  for (let i = 0; i < COUNT; i++) {
    matrix[i * COUNT + i] = valueAt(matrix, i * COUNT + i) * (1 + damping);
  }
  const step = choleskySolve(choleskyFactor(matrix, COUNT), COUNT, right);
  return ln.map((value, i) => value + Math.max(-2, Math.min(2, valueAt(step, i))));
}

function addPrior(ln: Float64Array, matrix: Float64Array, right: Float64Array): void {
  const level = 1 / (COUNT * LEVEL_SD ** 2);
  const step = 1 / STEP_SD ** 2;
  for (let i = 0; i < COUNT; i++) {
    const own = i * COUNT + i;
    matrix[own] = valueAt(matrix, own) + level;
    right[i] = valueAt(right, i) + level * (LN_LEVEL - valueAt(ln, i));
    if (i === 0) continue;
    const above = own - COUNT - 1;
    const rise = step * (valueAt(ln, i) - valueAt(ln, i - 1));
    matrix[own] = valueAt(matrix, own) + step;
    matrix[above] = valueAt(matrix, above) + step;
    matrix[own - 1] = valueAt(matrix, own - 1) - step;
    matrix[own - COUNT] = valueAt(matrix, own - COUNT) - step;
    right[i] = valueAt(right, i) - rise;
    right[i - 1] = valueAt(right, i - 1) + rise;
  }
}
