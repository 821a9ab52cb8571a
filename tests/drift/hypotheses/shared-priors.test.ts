import { describe, expect, it } from "vitest";
import { driftHypotheses } from "../../../lib/drift/hypotheses/drift-hypotheses.js";
import { sharedPriors } from "../../../lib/drift/hypotheses/shared-priors.js";
import { SCATTER_PRIOR } from "../../../lib/drift/hypotheses/visit-scatter.js";
import { expectClose } from "../../support/expect-close.js";
import { dataOf, NO_STEPS, WITHIN_S } from "./support.js";

describe("sharedPriors", () => {
  const scattered = (seed: number) =>
    driftHypotheses(
      dataOf(seed, () => 0, 9),
      NO_STEPS,
    );
  const at_s = 1.25 * 3600;
  const stepped = (seed: number, size: number) =>
    driftHypotheses(
      dataOf(seed, (h) => (h > 1.25 ? size : 0)),
      { possible_s: [at_s], declared_s: [] },
    );

  it("gives a single channel the fixed priors: its own checks are in its likelihood", () => {
    const [alone] = sharedPriors([scattered(1)], WITHIN_S);
    const [other] = sharedPriors([scattered(2)], WITHIN_S);
    expect(alone).toEqual(other);
    for (const [k, prior] of alone!.scatterPrior.entries()) {
      expectClose(prior, SCATTER_PRIOR[k]!, { absolute: 1e-12 });
    }
  });

  it("learns the scatter of whole visits from the other channels", () => {
    const priors = sharedPriors([1, 2, 3, 4, 5, 6].map(scattered), WITHIN_S);
    for (const { scatterPrior } of priors) {
      const sum = scatterPrior.reduce((all, one) => all + one, 0);
      expectClose(sum, 1, { absolute: 1e-12 });
      // Scattered by three errors: 2.8 is the nearest on the grid.
      expect(scatterPrior[0]).toBeLessThan(SCATTER_PRIOR[0]!);
      expect(scatterPrior[3]).toBeGreaterThan(SCATTER_PRIOR[3]!);
    }
  });

  it("raises the prior of a step where the other channels step, and lowers it elsewhere", () => {
    const stepPrior = (sizes: readonly number[]) =>
      sharedPriors(
        sizes.map((size, k) => stepped(k + 1, size)),
        WITHIN_S,
      )[0]!.stepSetPrior[1]!;
    expectClose(stepPrior([6]), 0.2, { absolute: 1e-12 });
    // Nine channels that step beside a fixed prior of three channels: (3 × 0.2 + 9) / 12 = 0.8.
    expectClose(stepPrior([6, ...new Array<number>(9).fill(60)]), 0.8, { absolute: 0.01 });
    expect(stepPrior([6, ...new Array<number>(9).fill(0)])).toBeLessThan(0.2);
  });
});
