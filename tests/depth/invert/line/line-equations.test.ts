import { Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { solveLine } from "../../../../lib/depth/invert/line/line-equations.js";
import { equations, gain, n, q, ROUNDING, r } from "../../../support/dense-line.js";
import { expectClose } from "../../../support/expect-close.js";

describe("the normal equations of a line", () => {
  it("give the step that dense matrices give, residuals within the Huber bound", () => {
    expect(Math.max(...r.map(Math.abs))).toBeLessThan(3);
    const expected = gain.mmul(Matrix.columnVector(r));
    const found = solveLine(equations, equations.right, equations.borderRight);
    for (const [k, value] of found.u.entries()) expectClose(value, expected.get(k, 0), ROUNDING);
    for (const [k, value] of found.channel.entries()) {
      expectClose(value, expected.get(n * q + k, 0), ROUNDING);
    }
  });
});
