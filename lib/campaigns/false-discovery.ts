import { quoted, StepError } from "../numerics/step-error.js";

/**
 * False-discovery-adjusted p-values: rejecting where the adjusted value is at most q keeps the
 * expected share of false rejections at q.
 *
 * For the i-th smallest of m p-values, min over j ≥ i of m pⱼ / j, at most 1. NaN stays NaN and
 * does not count towards m. Valid for independent p-values and for positively dependent ones, as of
 * neighbouring stations and slices (Benjamini & Yekutieli 2001). Throws a StepError for a value
 * outside 0 to 1.
 *
 * Source: Benjamini & Hochberg 1995, Journal of the Royal Statistical Society B 57, 289–300.
 *
 * @example falseDiscoveryAdjusted([0.01, 0.04, 0.03]); // [0.03, 0.04, 0.04]
 */
export function falseDiscoveryAdjusted(p: ArrayLike<number>): Float64Array {
  const bad = Array.from(p).findIndex((value) => value < 0 || value > 1);
  if (bad >= 0) {
    const fault = { code: "p-value", path: `p[${bad}]`, expected: "0 to 1, or NaN" };
    throw new StepError("falseDiscoveryAdjusted", [{ ...fault, received: quoted(p[bad]) }]);
  }
  const adjusted = new Float64Array(p.length).fill(Number.NaN);
  const falling = Array.from(p, (value, i) => ({ value, i }))
    .filter(({ value }) => !Number.isNaN(value))
    .sort((one, other) => other.value - one.value || other.i - one.i);
  let least = 1;
  for (const [above, { value, i }] of falling.entries()) {
    least = Math.min(least, (value * falling.length) / (falling.length - above));
    adjusted[i] = least;
  }
  return adjusted;
}
