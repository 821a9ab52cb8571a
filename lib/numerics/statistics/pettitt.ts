import { StepError } from "../step-error.js";

export interface Pettitt {
  /** Greatest |U|. */
  readonly K: number;
  /** Values before the change. */
  readonly at: number;
  /** Approximate two-sided p-value, 2 exp(−6K² / (n³ + n²)), at most 1. */
  readonly p: number;
}

/**
 * Pettitt's test for one shift of level at an unknown place; the first place where several tie. NaN
 * has no place in it: a StepError. U_t = Σ_{i≤t} Σ_{j>t} sign(xᵢ − xⱼ). The p-value is good to
 * about two digits below 0.5. Under two values K is 0 and p is 1.
 *
 * Source: Pettitt 1979, Applied Statistics 28, 126–135.
 *
 * @example pettitt([1, 2, 1, 2, 9, 8, 9, 8]).at; // 4
 */
export function pettitt(values: ArrayLike<number>): Pettitt {
  const n = values.length;
  const missing = Array.from(values).findIndex(Number.isNaN);
  if (missing >= 0) {
    const fault = { code: "missing", path: `values[${missing}]`, expected: "a number" };
    throw new StepError("pettitt", [{ ...fault, received: "NaN" }]);
  }
  let U = 0;
  let K = 0;
  let at = 0;
  for (let t = 0; t + 1 < n; t++) {
    for (let j = 0; j < n; j++) U += Math.sign(values[t]! - values[j]!);
    if (Math.abs(U) > K) {
      K = Math.abs(U);
      at = t + 1;
    }
  }
  return { K, at, p: n < 2 ? 1 : Math.min(1, 2 * Math.exp((-6 * K * K) / (n ** 3 + n ** 2))) };
}
