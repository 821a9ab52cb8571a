import { expect } from "vitest";

/**
 * Expects that a share of trials is what it should be, to within so many binomial standard
 * deviations, above as below.
 */
export function expectShare(
  [count, trials]: readonly [number, number],
  share: number,
  deviations: number,
): void {
  const slack = deviations * Math.sqrt((share * (1 - share)) / trials);
  const text = `${count} of ${trials}`;
  expect(count / trials, text).toBeGreaterThanOrEqual(share - slack);
  expect(count / trials, text).toBeLessThanOrEqual(share + slack);
}
