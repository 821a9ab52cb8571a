import { type Fault, quoted, StepError } from "../step-error.js";
import { kendallTail, refuseBadInflation } from "./mann-kendall.js";
import { normalTwoSided } from "./normal.js";
import { sortedQuantile } from "./robust.js";

export interface TheilSenOptions {
  /** Probability that the interval holds, 0 … 1. Default 0.9. */
  readonly level?: number;
  /** As in `mannKendall`. Default 1. */
  readonly inflation?: number;
}

export interface TheilSen {
  /** Median of the slopes of all pairs, y a unit of x; NaN under two values. */
  readonly slope: number;
  /** Median of y − slope × x. */
  readonly intercept: number;
  /** Holds the slope with at least the level; infinite where there are too few values. */
  readonly interval: readonly [number, number];
}

/** The p-value of Kendall's S is exact up to here. */
const EXACT_UP_TO = 20;

/**
 * Theil-Sen slope with its interval. Pairs with a missing x or y, and pairs of the same x, are left
 * out.
 *
 * The interval runs between the r-th smallest and r-th greatest pair slope, with the greatest r for
 * which Kendall's S stays within N − 2r for N slopes with at least the level: exactly for up to 20
 * values, beyond by the normal distribution with ties and serial correlation in its variance.
 * Throws a StepError where x and y differ in length or an option is out of range.
 *
 * Source: Sen 1968, Journal of the American Statistical Association 63, 1379–1389; Gilbert 1987,
 * Statistical Methods for Environmental Pollution Monitoring, section 16.5.
 *
 * @example theilSen([0, 1, 2, 3], [1, 3, 5, 7]).slope; // 2
 */
export function theilSen(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: TheilSenOptions = {},
): TheilSen {
  const { level = 0.9, inflation = 1 } = options;
  refuseBadPairs(x, y, level);
  refuseBadInflation(inflation, "theilSen");
  const present = Array.from(y, (_, i) => i).filter((i) => !Number.isNaN(x[i]! + y[i]!));
  const slopes = pairSlopes(x, y, present);
  const slope = sortedQuantile(slopes, 0.5);
  const rests = Float64Array.from(present, (i) => y[i]! - slope * x[i]!).sort();
  const r = orderRank(present.length, slopes.length, { level, inflation });
  const interval: [number, number] =
    r >= 1
      ? [slopes[r - 1]!, slopes[slopes.length - r]!]
      : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return { slope, intercept: sortedQuantile(rests, 0.5), interval };
}

function refuseBadPairs(x: ArrayLike<number>, y: ArrayLike<number>, level: number): void {
  const faults: Fault[] = [];
  if (x.length !== y.length) {
    const expected = `${x.length} values, as many as x`;
    faults.push({ code: "length", path: "y", expected, received: quoted(y.length) });
  }
  if (!(level > 0 && level < 1)) {
    const expected = "a number over 0 and under 1";
    faults.push({ code: "option-value", path: "options.level", expected, received: quoted(level) });
  }
  if (faults.length > 0) throw new StepError("theilSen", faults);
}

function pairSlopes(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  present: readonly number[],
): Float64Array {
  const slopes: number[] = [];
  for (const [at, j] of present.entries()) {
    for (const i of present.slice(0, at)) {
      if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
    }
  }
  return Float64Array.from(slopes).sort();
}

/** 0 where not even the extreme slopes hold the level. */
function orderRank(
  n: number,
  pairs: number,
  rule: { readonly level: number; readonly inflation: number },
): number {
  const beyond = missing(n, pairs, rule.inflation);
  let r = 0;
  while (2 * (r + 1) <= pairs + 1 && beyond(r + 1) <= 1 - rule.level + 1e-12) r++;
  return r;
}

/** By r, the probability that the interval between the r-th slopes misses. */
function missing(n: number, pairs: number, inflation: number): (r: number) => number {
  const exact = n <= EXACT_UP_TO && inflation === 1 && pairs === (n * (n - 1)) / 2;
  const sd = Math.sqrt((inflation * n * (n - 1) * (2 * n + 5)) / 18);
  return (r) => {
    const reached = pairs - 2 * (r - 1);
    return exact ? 2 * kendallTail(n, reached) : normalTwoSided((reached - 1) / sd);
  };
}
