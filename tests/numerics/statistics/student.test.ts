import { describe, expect, it } from "vitest";
import { studentPoint, studentTwoSided } from "../../../lib/numerics/statistics/student.js";
import { expectClose } from "../../support/expect-close.js";

describe("studentTwoSided and studentPoint", () => {
  it("give the table of Student's t", () => {
    // Abramowitz & Stegun 1964, table 26.10, two-sided 10 %, 5 % and 1 %.
    expectClose(studentPoint(0.1, 1), 6.314, { absolute: 5e-4 });
    expectClose(studentPoint(0.05, 2), 4.303, { absolute: 5e-4 });
    expectClose(studentPoint(0.01, 5), 4.032, { absolute: 5e-4 });
    expectClose(studentPoint(0.1, 30), 1.697, { absolute: 5e-4 });
    expectClose(studentTwoSided(12.706204736432095, 1), 0.05, { relative: 1e-9 });
    expect(studentTwoSided(Number.NaN, 3)).toBeNaN();
    expect(studentTwoSided(0, 4)).toBe(1);
    expect(() => studentTwoSided(1, 0)).toThrow("dof must be a whole number of 1 or above, got 0");
  });
});
