import { describe, expect, it } from "vitest";
import type { DriftDatum } from "../../../lib/drift/checks/drift-datum.js";
import { averageDrift } from "../../../lib/drift/hypotheses/average-drift.js";
import { driftHypotheses } from "../../../lib/drift/hypotheses/drift-hypotheses.js";
import { sharedPriors } from "../../../lib/drift/hypotheses/shared-priors.js";
import { expectClose } from "../../support/expect-close.js";
import { dataOf, NO_STEPS, seeds, WITHIN_S } from "./support.js";

/** By its own checks, without other channels. */
function averageOf(data: readonly DriftDatum[], steps = NO_STEPS) {
  const own = driftHypotheses(data, steps);
  return averageDrift(own, sharedPriors([own], WITHIN_S)[0]!);
}

describe("averageDrift on seeded channels", () => {
  it.each([
    ["steady", () => 0, 0.5],
    ["straight", (h: number) => 40 * h, 0.5],
    ["warm-up", (h: number) => 90 * (1 - Math.exp(-h / 0.5)), 0.5],
    ["swinging", (h: number) => 45 * Math.sin(2.5 * h), 0.5],
  ] as const)(
    "finds the kind that was simulated the most probable as a rule (%s)",
    (kind, drift, most) => {
      const found = seeds.map((seed) => averageOf(dataOf(seed, drift)).odds);
      const right = found.filter((odds) => odds[kind] === Math.max(...Object.values(odds)));
      expect(right.length / seeds.length).toBeGreaterThan(most);
    },
  );

  it("has a Bayes factor against a drift where there is none, and for one where there is", () => {
    const evidence = (drift: (h: number) => number, scatter: number) =>
      seeds.map((seed) => averageOf(dataOf(seed, drift, scatter)).evidence);
    // A Bayes factor of 20 arises by chance in one of 20 at most (Markov's inequality, as its mean
    // is 1).
    const byChance = [0, 9].flatMap((scatter) => evidence(() => 0, scatter));
    expect(byChance.filter((one) => one > 20).length).toBeLessThanOrEqual(80 / 20);
    expect(Math.min(...evidence((h) => 20 * h, 0))).toBeGreaterThan(20);
  });

  it("finds a large step, and where it is", () => {
    const steps = { possible_s: [0.75 * 3600, 1.25 * 3600], declared_s: [] };
    for (const seed of seeds) {
      const { stepProbability } = averageOf(
        dataOf(seed, (h) => (h > 1.25 ? 30 : 0)),
        steps,
      );
      expect(stepProbability.get(1.25 * 3600)).toBeGreaterThan(0.9);
      expect(stepProbability.get(0.75 * 3600)).toBeLessThan(0.5);
    }
  });

  it("estimates the scatter of whole visits", () => {
    const scatter = (size: number) => {
      const all = seeds.map((seed) => averageOf(dataOf(seed, () => 0, size)).scatter);
      return all.reduce((sum, one) => sum + one, 0) / all.length;
    };
    expect(scatter(0)).toBeLessThan(1);
    // Three errors; the grid is coarse and ten visits determine a scatter within a quarter.
    expectClose(scatter(9), 3, { relative: 0.3 });
  });
});
