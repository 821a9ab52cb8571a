import { describe, expect, it } from "vitest";
import type { CheckVisit } from "../../../lib/drift/checks/visits.js";
import { driftAt } from "../../../lib/drift/models/drift-curve.js";
import { piecewiseCurve } from "../../../lib/drift/models/piecewise-linear.js";

const visit = (time_s: number, mean: number): CheckVisit => ({
  time_s,
  start_s: time_s,
  end_s: time_s,
  mean,
  error: 1,
  used: 1,
  bad: 0,
});
const visits = [visit(100, 50), visit(200, 60), visit(300, 90)];

describe("driftCurve and driftAt", () => {
  it("start at 0, pass through the means and are straight between them", () => {
    const curve = piecewiseCurve(visits, [], Number.NaN);
    expect([...driftAt(curve, [100, 150, 200, 250, 300])]).toEqual([0, 5, 10, 25, 40]);
  });

  it("stay constant outside the visits, and know nothing at a missing time", () => {
    const curve = piecewiseCurve(visits, [], 0);
    expect([...driftAt(curve, [0, 999, Number.NaN])]).toEqual([0, 40, Number.NaN]);
  });

  it("jump at a step and drift on either side of it", () => {
    const curve = piecewiseCurve(visits, [{ after: 1, time_s: 240 }], 0.1);
    expect([...driftAt(curve, [239, 240, 300])]).toEqual([13.9, 34, 40]);
  });

  it("are 0 everywhere without a visit", () => {
    expect([...driftAt(piecewiseCurve([], [], 0), [5])]).toEqual([0]);
  });
});
