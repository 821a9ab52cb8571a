import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { gammaDraw } from "../../../lib/numerics/statistics/gamma-draw.js";
import { expectClose } from "../../support/expect-close.js";

describe("gammaDraw", () => {
  it.each([0.4, 1, 2.5, 40])("has mean and variance %f", (shape) => {
    const random = seededRandom(8);
    const n = 40000;
    const draws = Array.from({ length: n }, () => gammaDraw(shape, random));
    const mean = draws.reduce((sum, value) => sum + value, 0) / n;
    const variance = draws.reduce((sum, value) => sum + (value - mean) ** 2, 0) / n;
    // Four standard errors: of the mean sqrt(shape/n), of the variance by the fourth moment.
    expectClose(mean, shape, { absolute: 4 * Math.sqrt(shape / n) });
    expectClose(variance, shape, { absolute: 4 * Math.sqrt((2 * shape ** 2 + 6 * shape) / n) });
  });

  it("refuses a shape that is not above 0", () => {
    expect(() => gammaDraw(0, seededRandom(1))).toThrow("shape must be above 0, got 0");
  });
});
