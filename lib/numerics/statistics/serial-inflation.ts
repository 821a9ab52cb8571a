import { NORMAL_95 } from "./normal.js";
import { theilSen } from "./theil-sen.js";

/**
 * How many times greater serial correlation makes the variance of Mann-Kendall's S; 1 for series
 * under ten values, which are too few to estimate it, and where it is not significant (one-sided
 * 5 %).
 *
 * 1 + 2 / (n(n−1)(n−2)) Σ_k (n−k)(n−k−1)(n−k−2) ρᵏ, with ρ the lag-one autocorrelation of the ranks
 * of the series less its Theil-Sen trend, corrected for the bias −(2 + 4ρ)/n that the removed mean
 * and trend give it. Values are taken in the order given, NaN left out.
 *
 * Limits: an autocorrelation that decays geometrically. All lags estimated freely, as Hamed & Rao
 * have it, find too many false trends at 60 values or fewer.
 *
 * Source: Hamed & Rao 1998, Journal of Hydrology 204, 182–196 (variance); Yue & Wang 2004, Water
 * Resources Management 18, 201–218 (lag one); Marriott & Pope 1954, Biometrika 41, 390–402 (bias);
 * all from memory.
 *
 * @example serialInflation([3, 1, 4, 1, 5, 9, 2, 6, 5, 3]); // 1
 */
export function serialInflation(values: ArrayLike<number>): number {
  const n = Array.from(values).filter((value) => !Number.isNaN(value)).length;
  if (n < 10) return 1;
  const corrected = serialCorrelation(values);
  return corrected > NORMAL_95 / Math.sqrt(n) ? lagOneInflation(n, corrected) : 1;
}

/**
 * The lag-one autocorrelation ρ of `serialInflation`, at most 0.95: of the ranks of the series less
 * its Theil-Sen trend, corrected for its bias. NaN is left out; 0 under ten values.
 */
export function serialCorrelation(values: ArrayLike<number>): number {
  const x = Array.from(values).filter((value) => !Number.isNaN(value));
  const n = x.length;
  if (n < 10) return 0;
  const { slope } = theilSen(
    x.map((_, i) => i),
    x,
  );
  const found = lagOne(ranksOf(x.map((value, i) => value - slope * i)));
  return Math.min(0.95, (n * found + 2) / (n - 4));
}

/** The inflation for a known lag-one autocorrelation. */
export function lagOneInflation(n: number, correlation: number): number {
  let sum = 0;
  for (let lag = 1; lag <= n - 3; lag++) {
    sum += (n - lag) * (n - lag - 1) * (n - lag - 2) * correlation ** lag;
  }
  return 1 + (2 * sum) / (n * (n - 1) * (n - 2));
}

/** Ranks from 1; equal values share the mean of theirs. */
function ranksOf(x: readonly number[]): number[] {
  return x.map((value) => {
    const below = x.reduce((count, other) => count + (other < value ? 1 : 0), 0);
    const equal = x.reduce((count, other) => count + (other === value ? 1 : 0), 0);
    return below + (equal + 1) / 2;
  });
}

function lagOne(x: readonly number[]): number {
  const mean = x.reduce((sum, value) => sum + value, 0) / x.length;
  let product = 0;
  let square = 0;
  for (let i = 0; i < x.length; i++) {
    square += (x[i]! - mean) ** 2;
    if (i > 0) product += (x[i]! - mean) * (x[i - 1]! - mean);
  }
  return square > 0 ? product / square : 0;
}
