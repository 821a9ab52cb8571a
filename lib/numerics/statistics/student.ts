import { cephes } from "../functions/cephes.js";

/**
 * P(|T| > |t|) of Student's t with a whole number of degrees of freedom, to about 1e-10 relative.
 * NaN gives NaN. Throws a RangeError for `dof` that is not a whole number of 1 or above.
 *
 * @example studentTwoSided(12.706204736432095, 1); // 0.05
 */
export function studentTwoSided(t: number, dof: number): number {
  checkDegrees(dof);
  return 2 * cephes.stdtr(dof, -Math.abs(t));
}

/**
 * The t that |T| exceeds with the given two-sided probability, over 0 and under 1.
 *
 * @example studentPoint(0.1, 4); // 2.13184678633
 */
export function studentPoint(twoSided: number, dof: number): number {
  checkDegrees(dof);
  return -cephes.stdtri(dof, twoSided / 2);
}

/** Throws a RangeError for degrees of freedom that are not a whole number of 1 or above. */
export function checkDegrees(dof: number): void {
  if (Number.isInteger(dof) && dof >= 1) return;
  throw new RangeError(`dof must be a whole number of 1 or above, got ${dof}`);
}
