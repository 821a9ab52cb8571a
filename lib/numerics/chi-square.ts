import { erfc } from "./normal.js";

/**
 * P(X > x) of a chi-square variable with `dof` degrees of freedom: the regularised upper incomplete
 * gamma function Q(dof/2, x/2), to about 1e-12 relative for dof up to 1000.
 *
 * Starts from Q(1, y) = e^−y or Q(½, y) = erfc(√y) and climbs by Q(a + 1, y) = Q(a, y) +
 * y^a e^−y / Γ(a + 1); every term is positive. x of 0 or below gives 1; NaN gives NaN. Throws a
 * RangeError for `dof` that is not a whole number of 1 or above.
 * Source: Abramowitz & Stegun 1964, 26.4.4, 26.4.5 and 6.5.21.
 *
 * @example chiSquareTail(3.841458820694124, 1); // 0.05
 */
export function chiSquareTail(x: number, dof: number): number {
  if (!(Number.isInteger(dof) && dof >= 1)) {
    throw new RangeError(`dof must be a whole number of 1 or above, got ${dof}`);
  }
  if (x <= 0) return 1;
  const y = x / 2;
  if (y === Infinity) return 0;
  const odd = dof % 2 === 1;
  let sum = odd ? erfc(Math.sqrt(y)) : Math.exp(-y);
  let lnTerm = odd ? -y + Math.log((4 * y) / Math.PI) / 2 : -y + Math.log(y);
  for (let a = odd ? 0.5 : 1; a < dof / 2; a++) {
    sum += Math.exp(lnTerm);
    lnTerm += Math.log(y / (a + 1));
  }
  return Math.min(sum, 1);
}
