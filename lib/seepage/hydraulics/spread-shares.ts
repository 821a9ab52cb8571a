import { itemAt, valueAt } from "../../numerics/arrays.js";

/** How much of a result's spread comes from one input alone: first-order Sobol index. */
export interface InputShare {
  readonly input: string;
  /** 0 to 1; the shares add up to one where inputs act each by itself. */
  readonly share: number;
}

/** Classes into which each input's draws are sorted. */
const CLASSES = 20;

/**
 * First-order Sobol indices from the draws themselves: the variance of the result's mean over
 * classes of equal chance of one input, over the whole variance, less what chance alone gives (the
 * scatter within classes over their size). Inputs are independent.
 * Source: Sobol 1993, Mathematical Modelling and Computational Experiments 1, 407; Plischke,
 * Borgonovo & Smith 2013, European Journal of Operational Research 226, 536 (from given draws).
 */
export function inputShares(
  names: readonly string[],
  chances: readonly Float64Array[],
  results: readonly number[],
): readonly InputShare[] {
  const mean = meanOf(results);
  const whole = meanOf(results.map((value) => (value - mean) ** 2));
  const shares = names.map((input, k) => {
    const classes: number[][] = Array.from({ length: CLASSES }, () => []);
    for (const [n, chance] of chances.entries()) {
      const at = Math.min(CLASSES - 1, Math.floor(CLASSES * valueAt(chance, k)));
      itemAt(classes, at).push(itemAt(results, n));
    }
    const between = classes.reduce((sum, one) => {
      if (one.length < 2) return sum;
      const middle = meanOf(one);
      const within = meanOf(one.map((value) => (value - middle) ** 2)) / (one.length - 1);
      return sum + (one.length / results.length) * ((middle - mean) ** 2 - within);
    }, 0);
    return { input, share: whole > 0 ? Math.min(1, Math.max(0, between / whole)) : 0 };
  });
  return shares.toSorted((one, other) => other.share - one.share);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
