import { normalTail } from "../../numerics/statistics/normal.js";
import type { CheckVisits } from "./visits.js";

/**
 * Probability of check means as uneven as these from an instrument that does not drift: the F-test
 * of equal means, between-visit over within-visit variance. NaN below two visits, or where the
 * scatter is not known.
 */
export function constancyProbability({ visits, freedom }: CheckVisits): number {
  const between = visits.length - 1;
  if (!(between >= 1 && freedom >= 1)) return Number.NaN;
  const weighted = visits.map(({ mean, error }) => ({ mean, weight: 1 / error ** 2 }));
  const total = weighted.reduce((sum, { weight }) => sum + weight, 0);
  const level = weighted.reduce((sum, { weight, mean }) => sum + weight * mean, 0) / total;
  const uneven = weighted.reduce((sum, { weight, mean }) => sum + weight * (mean - level) ** 2, 0);
  return fSurvival(uneven / between, between, freedom);
}

/**
 * P(F > f) for a and b degrees of freedom, by the cube-root normal approximation (good to about
 * 0.003 in the probability for b of 4 or more; below that it is only a guide).
 *
 * Source: Paulson 1942, Annals of Mathematical Statistics 13, 233–235.
 *
 * @example fSurvival(2.7729, 5, 18); // 0.05
 */
export function fSurvival(f: number, a: number, b: number): number {
  const root = Math.cbrt(f);
  const [u, v] = [2 / (9 * a), 2 / (9 * b)];
  return normalTail(((1 - v) * root - (1 - u)) / Math.sqrt(v * root * root + u));
}
