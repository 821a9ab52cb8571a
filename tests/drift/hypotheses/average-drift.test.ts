import { describe, it } from "vitest";
import type { DriftDatum } from "../../../lib/drift/checks/drift-datum.js";
import { averageDrift } from "../../../lib/drift/hypotheses/average-drift.js";
import { driftHypotheses } from "../../../lib/drift/hypotheses/drift-hypotheses.js";
import { type SharedPriors, sharedPriors } from "../../../lib/drift/hypotheses/shared-priors.js";
import { expectClose } from "../../support/expect-close.js";
import { dataOf, NO_STEPS, WITHIN_S } from "./support.js";

/** By its own checks, without other channels. */
function averageOf(data: readonly DriftDatum[], steps = NO_STEPS) {
  const own = driftHypotheses(data, steps);
  return averageDrift(own, sharedPriors([own], WITHIN_S)[0]!);
}

describe("averageDrift", () => {
  it("has priors that sum to 1, and posteriors that do", () => {
    const data = dataOf(5, (h) => 9 * h);
    for (const possible_s of [[], [4000], [4000, 6000]]) {
      const own = driftHypotheses(data, { possible_s, declared_s: [] });
      const [{ stepSetPrior, scatterPrior }] = sharedPriors([own], WITHIN_S) as [SharedPriors];
      const total = own.all.reduce(
        (sum, { prior, set, scatter }) => sum + prior * stepSetPrior[set]! * scatterPrior[scatter]!,
        0,
      );
      expectClose(total, 1, { absolute: 1e-12 });
      const { odds } = averageOf(data, { possible_s, declared_s: [] });
      const sum = Object.values(odds).reduce((all, one) => all + one, 0);
      expectClose(sum, 1, { absolute: 1e-9 });
    }
  });
});
