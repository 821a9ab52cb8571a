import { cephes } from "./cephes.js";

/**
 * The Bessel function of the first kind of order 0, to about 1e-15 absolute for |x| < 1000. NaN
 * gives NaN.
 *
 * @example besselJ0(1); // 0.7651976865579665
 */
export function besselJ0(x: number): number {
  return cephes.j0(x);
}

/**
 * The Bessel function of the first kind of order 1; accuracy as `besselJ0`. Odd; the package itself
 * gives NaN for negative x of 5 and beyond.
 *
 * @example besselJ1(1); // 0.4400505857449335
 */
export function besselJ1(x: number): number {
  return Math.sign(x) * cephes.j1(Math.abs(x));
}
