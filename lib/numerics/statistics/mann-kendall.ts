import { quoted, StepError } from "../step-error.js";
import { normalTwoSided } from "./normal.js";

export interface MannKendallOptions {
  /**
   * How many times greater the variance of S is by serial correlation of the values, over 0;
   * `serialInflation` estimates it. Default 1: independent values.
   */
  readonly inflation?: number;
}

export interface MannKendall {
  /** Pairs that rise less pairs that fall. */
  readonly S: number;
  /** Variance of S under no trend: with ties, times the inflation. */
  readonly variance: number;
  /** (S ∓ 1) / √variance; 0 where S is 0. */
  readonly Z: number;
  /** Two-sided p-value: exact for up to 20 values without ties and inflation, else from Z. */
  readonly p: number;
  /** Values that are present. */
  readonly n: number;
}

/** Up to here S has its exact distribution; beyond, the normal one is within 1e-3. */
const EXACT_UP_TO = 20;

/**
 * Mann-Kendall test for a monotonic trend of values in the order given. NaN is left out.
 *
 * S = Σ_{i<j} sign(xⱼ − xᵢ); Var S = [n(n−1)(2n+5) − Σ t(t−1)(2t+5)] / 18 over groups of t ties.
 * Under three values, or where all are the same, p is 1. Throws a StepError for an inflation that
 * is not over 0.
 *
 * Source: Mann 1945, Econometrica 13, 245–259; Kendall 1975, Rank Correlation Methods (ties).
 *
 * @example mannKendall([1, 2, 3, 4, 5]).p; // 0.016667 (2 over 5!)
 */
export function mannKendall(
  values: ArrayLike<number>,
  options: MannKendallOptions = {},
): MannKendall {
  const { inflation = 1 } = options;
  refuseBadInflation(inflation, "mannKendall");
  const x = Array.from(values).filter((value) => !Number.isNaN(value));
  const n = x.length;
  const S = pairSigns(x);
  const ties = tieSum(x);
  const variance = (inflation * (n * (n - 1) * (2 * n + 5) - ties)) / 18;
  const Z = variance > 0 ? (S - Math.sign(S)) / Math.sqrt(variance) : 0;
  const exact = n <= EXACT_UP_TO && ties === 0 && inflation === 1;
  const p = exact ? Math.min(1, 2 * kendallTail(n, Math.abs(S))) : normalTwoSided(Z);
  return { S, variance, Z, p, n };
}

/** Throws a StepError unless the inflation is over 0. */
export function refuseBadInflation(inflation: number, step: string): void {
  if (inflation > 0) return;
  const received = quoted(inflation);
  const expected = "a number over 0";
  throw new StepError(step, [
    { code: "option-value", path: "options.inflation", expected, received },
  ]);
}

function pairSigns(x: readonly number[]): number {
  let sum = 0;
  for (let j = 1; j < x.length; j++) {
    for (let i = 0; i < j; i++) sum += Math.sign(x[j]! - x[i]!);
  }
  return sum;
}

function tieSum(x: readonly number[]): number {
  const groups = new Map<number, number>();
  for (const value of x) groups.set(value, (groups.get(value) ?? 0) + 1);
  let sum = 0;
  for (const t of groups.values()) sum += t * (t - 1) * (2 * t + 5);
  return sum;
}

const tails = new Map<number, Float64Array>();

/**
 * P(S ≥ s) of Kendall's S for n values in random order without ties, from the counts of
 * permutations by their number of inversions (Kendall 1975).
 */
export function kendallTail(n: number, s: number): number {
  const pairs = (n * (n - 1)) / 2;
  if (s > pairs) return 0;
  const least = Math.max(0, Math.ceil((s + pairs) / 2));
  let tail = tails.get(n);
  if (tail === undefined) {
    tail = cumulatedFromTop(n, pairs);
    tails.set(n, tail);
  }
  return tail[least]!;
}

/** Entry c: the probability of at least c rising pairs. */
function cumulatedFromTop(n: number, pairs: number): Float64Array {
  let shares = Float64Array.of(1);
  for (let size = 2; size <= n; size++) {
    const next = new Float64Array((size * (size - 1)) / 2 + 1);
    for (let c = 0; c < shares.length; c++) {
      for (let more = 0; more < size; more++) next[c + more]! += shares[c]! / size;
    }
    shares = next;
  }
  for (let c = pairs - 1; c >= 0; c--) shares[c] = shares[c]! + shares[c + 1]!;
  return shares;
}
