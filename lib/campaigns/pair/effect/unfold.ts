import { choleskyFactor, choleskySolve } from "../../../numerics/cholesky.js";
import { normalTail } from "../../../numerics/normal.js";

/** What a stretch showed, by slice. */
export interface Seen {
  /** k mean differences, log10. */
  readonly mean: Float64Array;
  /** k × k covariance of their errors. */
  readonly covariance: Float64Array;
  /** k × k: what each slice shows of a change of each slice. */
  readonly averaging: Float64Array;
  /** How far what a slice shows may differ from that, as a share of the change's size. */
  readonly averagingError: number;
}

/** The change of one slice, log10, as a distribution. */
export interface Unfolded {
  readonly median: number;
  readonly lo: number;
  readonly hi: number;
}

/** Sizes of a change that are weighed, standard deviations in log10: factors of 1.02 to 3.2. */
const SIZES = Array.from({ length: 14 }, (_, i) => 0.01 * 50 ** (i / 13));
/** Correlation of the change of a slice and of the next. */
const NEXT_SLICE = 0.5;

/**
 * The change of each slice behind what the slices showed: mean = averaging × change + error. Before
 * the data, changes are normal about none, alike from slice to slice (0.5 to the power of how many
 * slices lie between), and of a size that may be anything from 2 % to threefold with equal weight by
 * its logarithm. For each size the change is normal; sizes are weighed by how well they explain what
 * was seen. To the errors comes, for each size, what the averaging itself does not say: it is linear and
 * takes a slice to change throughout. So a change that is seen well is hardly drawn in, and one that the estimate can only
 * show in part has a wide interval, not a small value.
 *
 * @param level - probability that an interval holds, split evenly below and above.
 *
 * Source: Gelman et al. 2013, Bayesian Data Analysis, chapter 5 (normal means of unknown spread).
 */
export function unfold(seen: Seen, level: number): readonly Unfolded[] {
  const k = seen.mean.length;
  const parts = SIZES.map((size) => conditional(seen, size));
  const most = Math.max(...parts.map((part) => part.logWeight));
  const weights = parts.map((part) => Math.exp(part.logWeight - most));
  return Array.from({ length: k }, (_, slice) => {
    const mixture = parts.map((part, i) => ({
      weight: weights[i]!,
      mean: part.mean[slice]!,
      sd: part.sd[slice]!,
    }));
    const at = (p: number) => mixtureQuantile(mixture, p);
    return { median: at(0.5), lo: at((1 - level) / 2), hi: at((1 + level) / 2) };
  });
}

/** Posterior of the change for one size: P Aᵀ V⁻¹ mean and P − P Aᵀ V⁻¹ A P, V = A P Aᵀ + C. */
function conditional(seen: Seen, size: number) {
  const k = seen.mean.length;
  const prior = new Float64Array(k * k).map(
    (_, at) => size * size * NEXT_SLICE ** Math.abs(Math.floor(at / k) - (at % k)),
  );
  const shown = product(seen.averaging, prior, k);
  const total = product(shown, transposed(seen.averaging, k), k).map(
    (value, at) =>
      value + seen.covariance[at]! + (at % (k + 1) === 0 ? (seen.averagingError * size) ** 2 : 0),
  );
  const factor = choleskyFactor(total, k);
  const solved = choleskySolve(factor, k, seen.mean);
  let logWeight = 0;
  for (let i = 0; i < k; i++) {
    logWeight -= Math.log(factor[i * k + i]!) + (seen.mean[i]! * solved[i]!) / 2;
  }
  const column = (slice: number) =>
    Float64Array.from({ length: k }, (_, i) => shown[i * k + slice]!);
  const mean = seen.mean.map((_, slice) => dot(column(slice), solved));
  const sd = seen.mean.map((_, slice) => {
    const explained = dot(column(slice), choleskySolve(factor, k, column(slice)));
    return Math.sqrt(Math.max(1e-12, prior[slice * k + slice]! - explained));
  });
  return { logWeight, mean, sd };
}

interface Part {
  readonly weight: number;
  readonly mean: number;
  readonly sd: number;
}

function mixtureQuantile(parts: readonly Part[], p: number): number {
  const total = parts.reduce((sum, part) => sum + part.weight, 0);
  const below = (x: number) =>
    parts.reduce((sum, { weight, mean, sd }) => sum + weight * normalTail((mean - x) / sd), 0) /
    total;
  let low = Math.min(...parts.map(({ mean, sd }) => mean - 8 * sd));
  let high = Math.max(...parts.map(({ mean, sd }) => mean + 8 * sd));
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (below(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function product(left: Float64Array, right: Float64Array, k: number): Float64Array {
  return new Float64Array(k * k).map((_, at) => {
    const [i, j] = [Math.floor(at / k), at % k];
    let sum = 0;
    for (let l = 0; l < k; l++) sum += left[i * k + l]! * right[l * k + j]!;
    return sum;
  });
}

const transposed = (matrix: Float64Array, k: number) =>
  matrix.map((_, at) => matrix[(at % k) * k + Math.floor(at / k)]!);

const dot = (one: Float64Array, other: Float64Array) =>
  one.reduce((sum, value, i) => sum + value * other[i]!, 0);
