import { cephes } from "./cephes.js";

/** Modified Bessel function of the second kind, order 0, to 1e-14 relative; x > 0. */
export function besselK0(x: number): number {
  return cephes.k0(x);
}

/** Modified Bessel function of the second kind, order 1, to 1e-14 relative; x > 0. */
export function besselK1(x: number): number {
  return cephes.k1(x);
}

/** K1(x) / K0(x), without underflow for large x. */
export function besselRatioK1K0(x: number): number {
  return cephes.k1e(x) / cephes.k0e(x);
}
