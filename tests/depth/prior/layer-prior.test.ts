import { Matrix } from "ml-matrix";
import { describe, it } from "vitest";
import { layerPrior } from "../../../lib/depth/prior/layer-prior.js";
import { expectClose } from "../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1.2, 2, 3.5);
const m = top_m.length;
const priorOptions = { levelSd: 1, layerSd: 0.7, correlation_m: 1 };

describe("layerPrior", () => {
  it("gives every layer the level's and its own variance, and a factor of the covariance", () => {
    const { factor, variance } = layerPrior(top_m, priorOptions);
    const lower = Matrix.from1DArray(m, m, [...factor]);
    const covariance = lower.mmul(lower.transpose());
    for (let j = 0; j < m; j++) {
      expectClose(variance[j]!, 1.49, { absolute: 1e-8 });
      expectClose(covariance.get(j, j), 1.49, { absolute: 1e-8 });
    }
    // Middles of the first two layers: 0.25 and 0.85 m.
    expectClose(covariance.get(0, 1), 1 + 0.49 * Math.exp(-0.6), { absolute: 1e-8 });
  });
});
