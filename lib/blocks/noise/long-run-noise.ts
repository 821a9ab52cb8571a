import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import { MAD_TO_SD, madScale, median } from "../../numerics/statistics/robust.js";

/**
 * Differences of adjacent means over `window` samples, taken at every place. A mean needs half of
 * its window present; a difference that cannot be taken is NaN.
 */
export function adjacentDifferences(column: ArrayLike<number>, window: number): Float64Array {
  const means = runningMeans(column, window);
  return means.subarray(window).map((later, i) => later - means[i]!);
}

/**
 * The long-run variance of a column: the variance of one sample that, if samples were independent,
 * would give means over many samples the variance that they have. It includes the correlation of
 * neighbouring samples, of the noise as of the ground. From adjacent differences over `window`
 * samples: window × (1.4826 median |difference|)² / 2, robust to a few steps in the mean.
 *
 * Source: Wu & Zhao 2007, Journal of the Royal Statistical Society B 69, 391–410, the estimator
 * from medians; here with means at every place, so that it is the same for the reversed line.
 */
export function longRunVariance(differences: Float64Array, window: number): number {
  const scale = MAD_TO_SD * median(differences.map(Math.abs));
  return (window * scale * scale) / 2;
}

/**
 * How many neighbouring samples count as one independent sample: 1 + 2 Σ rₖ over lags 1, 2, … as
 * far as the robust correlation rₖ stays above 0.05, at most `longest` lags. For a correlation
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
  return scaleCorrelation(residuals.subarray(lag), residuals.subarray(0, -lag));
}

/**
 * The correlation of two columns, (a − b) / (a + b) from the squared robust scales of their sum and
 * their difference, each column brought to a scale of one first. 0 where a column has no scale.
 *
 * Source: Gnanadesikan & Kettenring 1972, Biometrics 28, 81–124.
 */
export function robustCorrelation(one: Float64Array, other: Float64Array): number {
  const [scaleOne, scaleOther] = [madScale(one), madScale(other)];
  if (!(scaleOne > 0 && scaleOther > 0)) return 0;
  return scaleCorrelation(
    one.map((value) => value / scaleOne),
    other.map((value) => value / scaleOther),
  );
}

/** The same of columns that have one scale. */
function scaleCorrelation(one: Float64Array, other: Float64Array): number {
  const a = madScale(one.map((value, i) => value + other[i]!)) ** 2;
  const b = madScale(one.map((value, i) => value - other[i]!)) ** 2;
  return a + b > 0 ? (a - b) / (a + b) : 0;
}

function runningMeans(column: ArrayLike<number>, window: number): Float64Array {
  const all = Float64Array.from(column);
  return Float64Array.from({ length: Math.max(0, all.length - window + 1) }, (_, i) => {
    const part = all.subarray(i, i + window);
    return 2 * presentCount(part) >= window ? presentMean(part) : Number.NaN;
  });
}
