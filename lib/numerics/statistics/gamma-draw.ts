import type { Random } from "../random.js";

/**
 * A draw of the gamma distribution of a shape above 0 and rate 1.
 *
 * Source: Marsaglia & Tsang 2000, ACM Transactions on Mathematical Software 26(3), 363–372; below
 * shape 1 by their note on the power of a uniform number.
 */
export function gammaDraw(shape: number, random: Random): number {
  if (!(shape > 0)) throw new RangeError(`shape must be above 0, got ${shape}`);
  if (shape < 1) {
    const power = (1 - random.uniform()) ** (1 / shape);
    return power * gammaDraw(shape + 1, random);
  }
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = random.normal();
    const v = (1 + c * x) ** 3;
    if (!(v > 0)) continue;
    const u = 1 - random.uniform();
    if (Math.log(u) < x ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}
