import { describe, expect, it } from "vitest";
import { decay } from "../../../lib/numerics/functions/decay.js";
import { expectClose } from "../../support/expect-close.js";

describe("decay", () => {
  it("is the exponential to a few units of the last digit, and seamless at its table's steps", () => {
    for (let i = 0; i < 20_000; i++) {
      const x = (45 * i) / 20_000;
      // The series leaves (1/32)^7/5040 = 6e-15 at most; rounding of x − k/16 and of the table adds
      // a few 1e-15.
      expectClose(decay(x), Math.exp(-x), { relative: 1e-14 });
    }
    for (let k = 1; k < 640; k++) {
      for (const x of [(k - 0.5) / 16, ((k - 0.5) / 16) * (1 - 1e-15)]) {
        expectClose(decay(x), Math.exp(-x), { relative: 1e-14 });
      }
    }
  });

  it("is 1 at 0, 0 far out, and NaN for NaN", () => {
    expect(decay(0)).toBe(1);
    expect(decay(1e4)).toBe(0);
    expect(decay(Number.NaN)).toBeNaN();
    expect(decay(-1)).toBe(Math.E);
  });
});
