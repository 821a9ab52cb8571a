import { choleskyFactor, choleskyInverse, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { valueAt } from "../../numerics/arrays.js";

/** Rows of one group: m features each (row by row), and an outcome 0 or 1. */
export interface GroupRows {
  readonly x: Float64Array;
  readonly y: Uint8Array;
}

export interface LogisticPrior {
  /** m means and standard deviations of the common slopes. */
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  /** First guess of the slopes' spread between groups; it counts like one group. */
  readonly between: Float64Array;
}

export interface PooledSlopes {
  /** m common slopes, and their covariance, m × m. */
  readonly mean: Float64Array;
  readonly covariance: Float64Array;
  /** m standard deviations between groups. */
  readonly between: Float64Array;
  /** Each group's own slopes, drawn towards the common ones, with standard deviations. */
  readonly groups: readonly { readonly slope: Float64Array; readonly sd: Float64Array }[];
}

const ROUNDS = 60;
const NEWTON_STEPS = 3;
const SETTLED = 1e-4;

/**
 * Logistic regression with slopes that vary between groups: slopes of a group are normal about
 * common ones, which have a normal prior. The spread between groups is estimated by
 * expectation-maximisation, each group's slopes by Newton's steps with the Laplace approximation of
 * their covariance. Groups without an outcome of both kinds say nothing of the spread.
 *
 * Source: Gelman et al. 2013, Bayesian Data Analysis, 3rd edition, 13.4–13.6 (modes and EM of
 * hierarchical models).
 */
export function pooledLogistic(
  groups: readonly GroupRows[],
  { mean: prior, sd, between: guess }: LogisticPrior,
): PooledSlopes {
  const m = prior.length;
  const telling = groups.map(({ y }) => y.includes(1) && y.includes(0));
  let mean: Float64Array = prior.slice();
  let between: Float64Array = guess.slice();
  let covariance: Float64Array = new Float64Array(m * m);
  const slopes = groups.map(() => prior.slice());
  const spreads: Float64Array[] = groups.map(() => new Float64Array(m));
  for (let round = 0; round < ROUNDS; round++) {
    const before = mean;
    const total = precisionOf(prior, sd);
    for (const [g, rows] of groups.entries()) {
      const own = laplace(rows, slopes[g]!, { mean, between });
      spreads[g] = own.sd;
      addInformation(total, own, between);
    }
    const factor = choleskyFactor(total.matrix, m);
    mean = choleskySolve(factor, m, total.right);
    covariance = choleskyInverse(factor, m);
    between = spreadBetween({ slopes, spreads, telling, mean, guess });
    if (mean.every((value, j) => Math.abs(value - before[j]!) < SETTLED)) break;
  }
  const shown = slopes.map((slope, g) => ({ slope, sd: spreads[g]! }));
  return { mean, covariance, between, groups: shown };
}

interface Level {
  readonly mean: Float64Array;
  readonly between: Float64Array;
}

interface GroupFit {
  readonly sd: Float64Array;
  /** The likelihood's information, m × m, and information × its own peak. */
  readonly information: Float64Array;
  readonly pull: Float64Array;
}

/** Moves the slopes to their mode; gives what the group's rows alone say. */
function laplace(rows: GroupRows, slope: Float64Array, { mean, between }: Level): GroupFit {
  const m = mean.length;
  let information: Float64Array = new Float64Array(m * m);
  let pull: Float64Array = new Float64Array(m);
  let factor: Float64Array = information;
  const heightAt = (at: Float64Array) => logPosterior(rows, at, { mean, between });
  let here: Place = { place: slope, height: heightAt(slope) };
  for (let step = 0; step < NEWTON_STEPS; step++) {
    ({ information, pull } = localForm(rows, slope));
    const matrix = information.slice();
    const right = pull.slice();
    for (let j = 0; j < m; j++) {
      const precision = 1 / (between[j]! * between[j]!);
      matrix[j * m + j]! += precision;
      right[j]! += precision * mean[j]!;
    }
    factor = choleskyFactor(matrix, m);
    const peak = choleskySolve(factor, m, right);
    here = towards(peak, here, heightAt);
    slope.set(here.place);
  }
  const inverse = choleskyInverse(factor, m);
  const sd = Float64Array.from({ length: m }, (_, j) => Math.sqrt(inverse[j * m + j]!));
  return { sd, information, pull };
}

interface Place {
  readonly place: Float64Array;
  readonly height: number;
}

/** Most halvings of a step. */
const HALVINGS = 30;

/**
 * The parabola's peak, or the first place half, a quarter … of the way to it that is no worse: where
 * all outcomes of a group are nearly sure the parabola is flat, and its peak may lie far beyond.
 */
function towards(
  peak: Float64Array,
  from: Place,
  heightAt: (place: Float64Array) => number,
): Place {
  const least = from.height;
  let place = peak;
  for (let halving = 0; halving < HALVINGS; halving++) {
    const height = heightAt(place);
    if (height >= least - 1e-9 * Math.abs(least)) return { place, height };
    place = place.map((value, j) => (value + valueAt(from.place, j)) / 2);
  }
  return from;
}

function logPosterior({ x, y }: GroupRows, slope: Float64Array, { mean, between }: Level): number {
  const m = slope.length;
  let sum = 0;
  for (const [i, outcome] of y.entries()) {
    let z = 0;
    for (let j = 0; j < m; j++) z += x[i * m + j]! * slope[j]!;
    const against = outcome === 1 ? -z : z;
    sum -= against > 0 ? against + Math.log1p(Math.exp(-against)) : Math.log1p(Math.exp(against));
  }
  for (const [j, one] of slope.entries()) {
    sum -= ((one - valueAt(mean, j)) / valueAt(between, j)) ** 2 / 2;
  }
  return sum;
}

/** The log likelihood as a parabola about the slopes: −½ sᵀ A s + pullᵀ s. */
function localForm({ x, y }: GroupRows, slope: Float64Array) {
  const m = slope.length;
  const information = new Float64Array(m * m);
  const pull = new Float64Array(m);
  for (let i = 0; i < y.length; i++) {
    let z = 0;
    for (let j = 0; j < m; j++) z += x[i * m + j]! * slope[j]!;
    const p = 1 / (1 + Math.exp(-z));
    const w = Math.max(1e-9, p * (1 - p));
    for (let j = 0; j < m; j++) {
      const one = x[i * m + j]!;
      pull[j]! += one * (y[i]! - p + w * z);
      for (let k = 0; k <= j; k++) information[j * m + k]! += w * one * x[i * m + k]!;
    }
  }
  for (let j = 0; j < m; j++) {
    for (let k = 0; k < j; k++) information[k * m + j] = information[j * m + k]!;
  }
  return { information, pull };
}

interface Normal {
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

function precisionOf(mean: Float64Array, sd: Float64Array): Normal {
  const m = mean.length;
  const matrix = new Float64Array(m * m);
  for (let j = 0; j < m; j++) matrix[j * m + j] = 1 / (sd[j]! * sd[j]!);
  return { matrix, right: mean.map((value, j) => value * matrix[j * m + j]!) };
}

/**
 * What a group says of the common slopes, its own integrated out: with B = diag(between²), the
 * information (A⁻¹ + B)⁻¹ = B⁻¹ − B⁻¹ (A + B⁻¹)⁻¹ B⁻¹, and the pull B⁻¹ (A + B⁻¹)⁻¹ pull.
 */
function addInformation({ matrix, right }: Normal, own: GroupFit, between: Float64Array): void {
  const m = between.length;
  const precision = between.map((one) => 1 / (one * one));
  const both = own.information.slice();
  for (const [j, one] of precision.entries()) both[j * m + j]! += one;
  const factor = choleskyFactor(both, m);
  const inverse = choleskyInverse(factor, m);
  const pulled = choleskySolve(factor, m, own.pull);
  for (const [j, one] of precision.entries()) {
    right[j]! += one * pulled[j]!;
    matrix[j * m + j]! += one;
    for (const [k, other] of precision.entries()) {
      matrix[j * m + k]! -= one * inverse[j * m + k]! * other;
    }
  }
}

interface Spread {
  readonly slopes: readonly Float64Array[];
  readonly spreads: readonly Float64Array[];
  readonly telling: readonly boolean[];
  readonly mean: Float64Array;
  readonly guess: Float64Array;
}

function spreadBetween({ slopes, spreads, telling, mean, guess }: Spread): Float64Array {
  return guess.map((first, j) => {
    let [sum, count] = [first * first, 1];
    for (const [g, slope] of slopes.entries()) {
      if (!telling[g]) continue;
      sum += (slope[j]! - mean[j]!) ** 2 + spreads[g]![j]! ** 2;
      count += 1;
    }
    return Math.sqrt(sum / count);
  });
}
