import { madScale, median } from "./robust.js";

/** Noise of one reading against its value: sqrt(floor² + (share × value)²). */
export interface NoiseModel {
  readonly floor: number;
  readonly share: number;
}

/** Neighbouring readings taken together for one estimate of the scatter. */
const BATCH = 25;
const ROUNDS = 20;

/**
 * Scatter of neighbouring readings as a floor and a share of the value: their steps from one to the
 * next, as `noiseOfScatter` takes them.
 */
export function fitNoise(values: Float64Array): NoiseModel {
  const present = values.filter((value) => !Number.isNaN(value));
  const steps = present.map((value, i) => (value - (present[i - 1] ?? Number.NaN)) / Math.SQRT2);
  return noiseOfScatter(present, steps);
}

/**
 * A floor and a share of the value from what is noise in each of n readings: batches of neighbours
 * give a robust variance and a middle value each, and a line of variance against value² with no
 * negative part is laid through them. Batches in disturbed ground weigh little.
 *
 * @param scatter n entries of the noise's variance; NaN where it is not known
 */
export function noiseOfScatter(values: Float64Array, scatter: Float64Array): NoiseModel {
  const batches: Batch[] = [];
  const size = Math.max(4, Math.min(BATCH, Math.floor(values.length / 4)));
  for (let start = 0; start + size <= values.length; start += size) {
    const square = median(values.subarray(start, start + size)) ** 2;
    // The first entry may belong to the batch before.
    batches.push({ square, variance: madScale(scatter.subarray(start + 1, start + size)) ** 2 });
  }
  return fitVariance(batches.filter(({ variance }) => variance > 0));
}

/** Noise at a value; it never reaches zero, so that exact data can be judged too. */
export function noiseAt({ floor, share }: NoiseModel, value: number): number {
  return Math.max(Math.hypot(floor, share * value), 1e-6 * Math.abs(value), 1e-9);
}

/** Variance of neighbours, and the square of their middle value. */
interface Batch {
  readonly square: number;
  readonly variance: number;
}

/** variance = a + b × square, a and b not negative, by reweighted least squares. */
function fitVariance(batches: readonly Batch[]): NoiseModel {
  let a = median(batches.map(({ variance }) => variance));
  let b = 0;
  if (Number.isNaN(a)) return { floor: 0, share: 0 };
  for (let round = 0; round < ROUNDS; round++) {
    const weight = ({ square, variance }: Batch) => robustWeight(variance, a + b * square);
    [a, b] = notNegativeLine(batches.map((batch) => ({ ...batch, weight: weight(batch) })));
  }
  return { floor: Math.sqrt(a), share: Math.sqrt(b) };
}

/** A variance estimate scatters in proportion to itself; those far above the line count less. */
function robustWeight(variance: number, expected: number): number {
  const excess = variance / expected;
  return (excess > 2.5 ? 2.5 / excess ** 2 : 1) / expected ** 2;
}

function notNegativeLine(
  batches: readonly (Batch & { readonly weight: number })[],
): [number, number] {
  let [w, wx, wxx, wy, wxy] = [0, 0, 0, 0, 0];
  for (const { square, variance, weight } of batches) {
    w += weight;
    wx += weight * square;
    wxx += weight * square * square;
    wy += weight * variance;
    wxy += weight * square * variance;
  }
  const b = (w * wxy - wx * wy) / (w * wxx - wx * wx);
  const a = (wy - b * wx) / w;
  if (a > 0 && b >= 0) return [a, b];
  if (!(b >= 0)) return [wy / w, 0];
  return [0, wxy / wxx];
}
