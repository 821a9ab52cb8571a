import { describe, it } from "vitest";
import { pooledLogistic } from "../../../lib/inventory/weights/pooled-logistic.js";
import { chance } from "../../abroad/random.js";
import { expectClose } from "../../support/expect-close.js";

/** Groups whose slopes vary about 1.5 with 0.6; the intercept is −1 in all. */
function drawn(groups: number, rows: number) {
  const random = chance(11, "groups");
  return Array.from({ length: groups }, () => {
    const slope = 1.5 + 0.6 * random.normal();
    const x = new Float64Array(2 * rows);
    const y = new Uint8Array(rows);
    for (let i = 0; i < rows; i++) {
      const feature = random.between(-1, 1);
      x.set([1, feature], 2 * i);
      y[i] = random.uniform() < 1 / (1 + Math.exp(1 - slope * feature)) ? 1 : 0;
    }
    return { x, y };
  });
}

const prior = {
  mean: Float64Array.of(0, 0),
  sd: Float64Array.of(3, 3),
  between: Float64Array.of(0.3, 0.3),
};

describe("logistic regression with slopes that vary between groups", () => {
  it("finds the common slopes and their spread", () => {
    const { mean, between, covariance } = pooledLogistic(drawn(60, 200), prior);
    // Three standard errors of the mean of 60 slopes, each known to about 0.65.
    expectClose(mean[1]!, 1.5, { absolute: 0.25 });
    expectClose(mean[0]!, -1, { absolute: 0.15 });
    expectClose(between[1]!, 0.6, { absolute: 0.2 });
    expectClose(Math.sqrt(covariance[3]!), 0.65 / Math.sqrt(60), { absolute: 0.03 });
  });

  it("is ordinary regression of one group under a flat prior: the score is zero at its slopes", () => {
    const [rows] = drawn(1, 400);
    const { groups } = pooledLogistic([rows!], {
      mean: Float64Array.of(0, 0),
      sd: Float64Array.of(1e3, 1e3),
      between: Float64Array.of(1e3, 1e3),
    });
    const slope = groups[0]!.slope;
    const score = [0, 0];
    for (let i = 0; i < 400; i++) {
      const z = rows!.x[2 * i]! * slope[0]! + rows!.x[2 * i + 1]! * slope[1]!;
      for (const j of [0, 1]) {
        score[j]! += rows!.x[2 * i + j]! * (rows!.y[i]! - 1 / (1 + Math.exp(-z)));
      }
    }
    for (const value of score) expectClose(value, 0, { absolute: 1e-3 });
  });

  it("stays at the prior where nothing was seen", () => {
    const empty = { x: new Float64Array(0), y: new Uint8Array(0) };
    const { mean } = pooledLogistic([empty], { ...prior, mean: Float64Array.of(-2, 1) });
    expectClose(mean[0]!, -2, { absolute: 1e-9 });
    expectClose(mean[1]!, 1, { absolute: 1e-9 });
  });
});
