import { describe, expect, it } from "vitest";
import type { CheckVisit } from "../../../lib/drift/checks/visits.js";
import { driftRate } from "../../../lib/drift/models/drift-rate.js";
import { expectClose } from "../../support/expect-close.js";

const group = (time_s: number, mean: number, error = 1): CheckVisit => ({
  time_s,
  start_s: time_s,
  end_s: time_s,
  mean,
  error,
  used: 1,
  bad: 0,
});

describe("driftRate", () => {
  it("is exact on a line, also at times since 1970", () => {
    const groups = [0, 1000, 2500].map((t) => group(1.95e9 + t, 7 + 0.02 * t));
    expectClose(driftRate(groups, new Set()).perSecond, 0.02, { relative: 1e-9 });
  });

  it("leaves the level free at a break", () => {
    const groups = [group(0, 0), group(100, 2), group(110, 50), group(210, 52)];
    expectClose(driftRate(groups, new Set([1])).perSecond, 0.02, { relative: 1e-12 });
  });

  it("has the least-squares standard error where the scatter agrees with the errors", () => {
    // Times 0, 1, 2 and errors 1: 1 / sqrt(2); the points lie on the line, so nothing is widened.
    const groups = [group(0, 0), group(1, 1), group(2, 2)];
    expectClose(driftRate(groups, new Set()).error, Math.SQRT1_2, { relative: 1e-12 });
  });

  it("weighs a visit by its error", () => {
    const even = [group(0, 0), group(1, 1), group(2, 5, 1e6)];
    expectClose(driftRate(even, new Set()).perSecond, 1, { relative: 1e-6 });
  });

  it("is not determined where no stretch holds two visits", () => {
    expect(driftRate([group(0, 1)], new Set()).perSecond).toBeNaN();
    expect(driftRate([group(0, 1), group(9, 2)], new Set([0])).perSecond).toBeNaN();
  });
});
