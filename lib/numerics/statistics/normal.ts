import { cephes, orLimit } from "../functions/cephes.js";

/**
 * The complementary error function, to 1e-14 relative until it underflows near x = 26.5. NaN gives
 * NaN.
 *
 * @example erfc(1); // 0.15729920705028513
 */
export function erfc(x: number): number {
  if (x < 0) return 2 - erfc(-x);
  return x > UNDERFLOWS ? 0 : orLimit(() => cephes.erfc(x), 0);
}

/** Well beyond where it underflows, it is not asked: what `cephes` throws there takes long. */
const UNDERFLOWS = 27;

/** P(Z > z) of a standard normal variable, to 1e-13 relative. NaN gives NaN. */
export function normalTail(z: number): number {
  return erfc(z * Math.SQRT1_2) / 2;
}

/** P(|Z| > |z|) of a standard normal variable, to 1e-13 relative. NaN gives NaN. */
export function normalTwoSided(z: number): number {
  return erfc(Math.abs(z) * Math.SQRT1_2);
}

/** Standard normal value that one in ten exceed: an 80 % interval reaches this far either way. */
export const NORMAL_90 = 1.2815515655446004;
/** Standard normal value that one in twenty exceed: a 90 % interval reaches this far either way. */
export const NORMAL_95 = 1.6448536269514722;

/** z with P(Z > z) = tail, for a tail over 0 and under 1. */
export function normalPoint(tail: number): number {
  return -cephes.ndtri(tail);
}
