import { positiveDefinite } from "../../../numerics/algebra/dense.js";
import { itemAt } from "../../../numerics/arrays.js";
import { normalTail } from "../../../numerics/statistics/normal.js";

/** The observed change of a stretch, by slice. */
interface ObservedChange {
  /** k mean differences, log10. */
  readonly mean: Float64Array;
  /** k × k covariance of their errors. */
  readonly covariance: Float64Array;
  /** k × k averaging kernel: the observed change of each slice for a change of each slice. */
  readonly averaging: Float64Array;
  /** Standard deviation of the observed change about that, as a share of the change's size. */
  readonly averagingError: number;
}

/** The change of one slice, log10, as a distribution. */
interface Unfolded {
  readonly median: number;
  readonly lo: number;
  readonly hi: number;
}

/** Prior standard deviations of a change, log10: factors of 1.02 to 3.2. */
const SIZES = Array.from({ length: 14 }, (_, i) => 0.01 * 50 ** (i / 13));
/** Correlation of the change of a slice and of the next. */
const NEXT_SLICE = 0.5;

/**
 * The true change of each slice from the observed ones: mean = averaging × change + error. The
 * prior of the changes is normal about zero, correlated between slices (0.5 to the power of the
 * slices between), with a standard deviation from 2 % to threefold, uniform in its logarithm. Given
 * that standard deviation the posterior is normal; the standard deviations are averaged by their
 * marginal likelihood. The errors include that of the averaging kernel itself, which is linear and
 * assumes that a slice changes throughout. So a well resolved change is hardly shrunk, and one that
 * the estimate resolves only in part has a wide interval, not a small value.
 *
 * @param level - probability that an interval holds, split evenly below and above.
 *
 * Source: Gelman et al. 2013, Bayesian Data Analysis, chapter 5 (normal means, unknown variance).
 */
export function unfold(observed: ObservedChange, level: number): readonly Unfolded[] {
  const parts = SIZES.map((size) => conditional(observed, size));
  const most = Math.max(...parts.map((part) => part.logWeight));
  return Array.from(observed.mean, (_, slice) => {
    const mixture = parts.map(({ logWeight, mean, sd }) => ({
      weight: Math.exp(logWeight - most),
      mean: itemAt(mean, slice),
      sd: itemAt(sd, slice),
    }));
    const at = (p: number) => mixtureQuantile(mixture, p);
    return { median: at(0.5), lo: at((1 - level) / 2), hi: at((1 + level) / 2) };
  });
}

/** Posterior for one prior size: P Aᵀ V⁻¹ mean and P − P Aᵀ V⁻¹ A P, V = A P Aᵀ + C. */
function conditional(observed: ObservedChange, size: number) {
  const k = observed.mean.length;
  const prior = new Float64Array(k * k).map(
    (_, at) => size * size * NEXT_SLICE ** Math.abs(Math.floor(at / k) - (at % k)),
  );
  const shown = product(observed.averaging, prior, k);
  const total = product(shown, transposed(observed.averaging, k), k).map(
    (value, at) =>
      value +
      observed.covariance[at]! +
      (at % (k + 1) === 0 ? (observed.averagingError * size) ** 2 : 0),
  );
  const { solve, logDeterminant } = positiveDefinite(total, k);
  const solved = solve(observed.mean);
  const logWeight = -(logDeterminant + dot(observed.mean, solved)) / 2;
  const columns = Array.from(solved, (_, slice) => shown.filter((_, at) => at % k === slice));
  const mean = Float64Array.from(columns, (column) => dot(column, solved));
  const sd = Float64Array.from(columns, (column) => {
    const explained = dot(column, solve(column));
    return Math.sqrt(Math.max(1e-12, size * size - explained));
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
