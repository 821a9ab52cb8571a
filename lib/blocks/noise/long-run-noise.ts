import { MAD_TO_SD, madScale, median } from "../../numerics/robust.js";

/**
 * Differences of adjacent means over `window` samples, taken at every place. A mean needs half of
 * its window present; a difference that cannot be taken is NaN.
 */
export function adjacentDifferences(column: ArrayLike<number>, window: number): Float64Array {
  const means = runningMeans(column, window);
  const count = Math.max(0, means.length - window);
  return Float64Array.from({ length: count }, (_, i) => means[i + window]! - means[i]!);
}

/**
 * The long-run variance of a column: the variance of one sample that, if samples were independent,
 * would give means over many samples the spread that they have. It counts the resemblance of
 * neighbouring samples, of the noise as of the ground. From adjacent differences over `window`
 * samples: window × (1.4826 median |difference|)² / 2; a few steps in the mean leave it alone.
 *
 * Source: Wu & Zhao 2007, Journal of the Royal Statistical Society B 69, 391–410, the estimator
 * from medians; here with means at every place, so that it is the same for the reversed line.
 */
export function longRunVariance(differences: Float64Array, window: number): number {
  const scale = MAD_TO_SD * median(differences.map(Math.abs));
  return (window * scale * scale) / 2;
}

/**
 * How many neighbouring samples are worth one independent sample: 1 + 2 Σ rₖ over lags 1, 2, … as
 * far as the robust correlation rₖ stays above `least`, at most `longest` lags. For a correlation
 * that falls by a factor r from sample to sample this is (1 + r) / (1 − r).
 */
export function effectiveSampleFactor(residuals: Float64Array, longest: number): number {
  return robustCorrelations(residuals, longest).reduce((factor, r) => factor + 2 * r, 1);
}

/** The robust correlations at lags 1, 2, … as far as they stay above 0.05, at most `longest`. */
export function robustCorrelations(residuals: Float64Array, longest: number): number[] {
  const least = 0.05;
  const correlations: number[] = [];
  for (let lag = 1; lag <= longest && lag < residuals.length; lag++) {
    const r = correlationAtLag(residuals, lag);
    if (!(r > least)) break;
    correlations.push(r);
  }
  return correlations;
}

/** As `robustCorrelation`, of a column with itself: both have the same scale. */
function correlationAtLag(residuals: Float64Array, lag: number): number {
  const count = residuals.length - lag;
  const sums = new Float64Array(count);
  const differences = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    sums[i] = residuals[i + lag]! + residuals[i]!;
    differences[i] = residuals[i + lag]! - residuals[i]!;
  }
  const a = madScale(sums) ** 2;
  const b = madScale(differences) ** 2;
  return a + b > 0 ? (a - b) / (a + b) : 0;
}

/**
 * The correlation of two columns, (a − b) / (a + b) from the squared robust scales of their sum and
 * their difference, each column brought to a scale of one first. 0 where a column has no scale.
 *
 * Source: Gnanadesikan & Kettenring 1972, Biometrics 28, 81–124.
 */
export function robustCorrelation(one: Float64Array, other: Float64Array): number {
  const scaleOne = madScale(one);
  const scaleOther = madScale(other);
  if (!(scaleOne > 0 && scaleOther > 0)) return 0;
  const sums = one.map((value, i) => value / scaleOne + other[i]! / scaleOther);
  const differences = one.map((value, i) => value / scaleOne - other[i]! / scaleOther);
  const a = madScale(sums) ** 2;
  const b = madScale(differences) ** 2;
  return a + b > 0 ? (a - b) / (a + b) : 0;
}

function runningMeans(column: ArrayLike<number>, window: number): Float64Array {
  const n = column.length;
  const means = new Float64Array(Math.max(0, n - window + 1));
  for (let i = 0; i < means.length; i++) {
    let sum = 0;
    let present = 0;
    for (let j = i; j < i + window; j++) {
      if (Number.isNaN(column[j]!)) continue;
      sum += column[j]!;
      present++;
    }
    means[i] = 2 * present >= window ? sum / present : Number.NaN;
  }
  return means;
}
