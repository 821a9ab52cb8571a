import { describe, it } from "vitest";
import { driftHypotheses } from "../../../lib/drift/hypotheses/drift-hypotheses.js";
import { solveDrift } from "../../../lib/drift/kriging/solve-drift.js";
import { expectClose } from "../../support/expect-close.js";
import { dataOf, NO_STEPS } from "./support.js";

describe("driftHypotheses", () => {
  it("have the restricted likelihood that the general solution gives", () => {
    const { all } = driftHypotheses(
      dataOf(4, (h) => 9 * h),
      NO_STEPS,
    );
    for (const hypothesis of all) {
      const { logLikelihood } = solveDrift(hypothesis.frame, hypothesis.covariance, 1);
      expectClose(hypothesis.logLikelihood, logLikelihood, { absolute: 1e-9 });
    }
  });
});
