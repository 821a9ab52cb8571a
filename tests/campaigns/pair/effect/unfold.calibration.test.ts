import { describe, it } from "vitest";
import { unfold } from "../../../../lib/campaigns/pair/effect/unfold.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { expectClose } from "../../../support/expect-close.js";

describe("unfold over seeded changes", () => {
  it("holds the change in 90 of 100 draws from what it believes, slices mixed", () => {
    const random = seededRandom(9);
    const averaging = Float64Array.of(0.7, 0.3, 0.05, 0.35, 0.4, 0.3, -0.05, 0.2, 0.5);
    let held = 0;
    const runs = 300;
    for (let run = 0; run < runs; run++) {
      const size = 0.01 * 50 ** random.uniform();
      const first = random.normal();
      const second = 0.5 * first + Math.sqrt(0.75) * random.normal();
      const third = 0.5 * second + Math.sqrt(0.75) * random.normal();
      const truth = [size * first, size * second, size * third];
      const mean = Float64Array.from([0, 1, 2], (a) => {
        const shown = truth.reduce((sum, d, b) => sum + averaging[3 * a + b]! * d, 0);
        return shown + 0.015 * random.normal();
      });
      const found = unfold(
        {
          mean,
          covariance: Float64Array.of(0.015 ** 2, 0, 0, 0, 0.015 ** 2, 0, 0, 0, 0.015 ** 2),
          averaging,
          averagingError: 0,
        },
        0.9,
      );
      held += found.filter((one, k) => one.lo <= truth[k]! && one.hi >= truth[k]!).length / 3;
    }
    // Exact by construction: three binomial errors at 300 draws are 5 %.
    expectClose(held / runs, 0.9, { absolute: 0.05 });
  });
});
