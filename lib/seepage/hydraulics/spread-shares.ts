import { itemAt, valueAt, zipped } from "../../numerics/arrays.js";

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
): (results: Float64Array) => readonly InputShare[] {
  const sorted = names.map((_, k) => drawsByClass(chances, k));
  return (results) => {
    const mean = meanOf(results);
    const whole = meanOf(results.map((value) => (value - mean) ** 2));
    const shares = zipped(names, sorted).map(([input, classes]) => {
      const between = classes.reduce((sum, own) => sum + classShare(own, results, mean), 0);
      return { input, share: whole > 0 ? Math.min(1, Math.max(0, between / whole)) : 0 };
    });
    return shares.toSorted((one, other) => other.share - one.share);
  };
}

/** The numbers of the draws in each class of one input. */
function drawsByClass(chances: readonly Float64Array[], input: number): readonly Int32Array[] {
  const classes: number[][] = Array.from({ length: CLASSES }, () => []);
  for (const [n, chance] of chances.entries()) {
    const at = Math.min(CLASSES - 1, Math.floor(CLASSES * valueAt(chance, input)));
    itemAt(classes, at).push(n);
  }
  return classes.map((own) => Int32Array.from(own));
}

/** What a class adds to the variance between classes, less what chance gives it. */
function classShare(draws: Int32Array, results: Float64Array, mean: number): number {
  const size = draws.length;
  if (size < 2) return 0;
  let sum = 0;
  for (let j = 0; j < size; j++) sum += results[draws[j]!]!;
  const middle = sum / size;
  let squares = 0;
  for (let j = 0; j < size; j++) squares += (results[draws[j]!]! - middle) ** 2;
  const within = squares / size / (size - 1);
  return (size / results.length) * ((middle - mean) ** 2 - within);
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
