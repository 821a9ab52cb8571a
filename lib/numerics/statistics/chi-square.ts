import { cephes, orLimit } from "../functions/cephes.js";
import { checkDegrees } from "./student.js";

/**
 * P(X > x) of a chi-square variable with `dof` degrees of freedom, to about 1e-12 relative for dof
 * up to 1000. x of 0 or below gives 1; NaN gives NaN. Throws a RangeError for `dof` that is not a
 * whole number of 1 or above.
 *
 * @example chiSquareTail(3.841458820694124, 1); // 0.05
 */
export function chiSquareTail(x: number, dof: number): number {
  checkDegrees(dof);
  if (x <= 0) return 1;
  if (x === Infinity) return 0;
  return orLimit(() => cephes.chdtrc(dof, x), x < dof ? 1 : 0);
}
