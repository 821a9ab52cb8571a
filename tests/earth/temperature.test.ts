import { describe, expect, it } from "vitest";
import { factorTo25, ratioFactorTo25 } from "../../lib/earth/temperature.js";
import { expectClose } from "../support/expect-close.js";

describe("factorTo25", () => {
  it("gives the published factors", () => {
    // Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005 (methods, section 3); 5 decimals.
    const table = [1.8504, 1.61167, 1.41354, 1.24913, 1.11268, 0.99944, 0.90546];
    for (const [i, factor] of table.entries()) {
      expectClose(factorTo25(5 * i), factor, { absolute: 5.1e-6 });
    }
  });

  it("makes conductivity rise by about 27 % from 10 to 20 °C", () => {
    // Methods, section 0, finding 6.
    expectClose(factorTo25(10) / factorTo25(20), 1.27, { absolute: 0.005 });
  });

  it("has no value below freezing, nor for a missing temperature", () => {
    expect(factorTo25(-0.1)).toBeNaN();
    expect(factorTo25(Number.NaN)).toBeNaN();
    expect(ratioFactorTo25(-0.1)).toBeNaN();
  });
});

describe("ratioFactorTo25", () => {
  it("is 1 at 25 °C and stays within 6 % of the exponential form from 10 to 30 °C", () => {
    expect(ratioFactorTo25(25)).toBe(1);
    for (let t = 10; t <= 30; t += 5) {
      expectClose(ratioFactorTo25(t), factorTo25(t), { relative: 0.06 });
    }
  });
});
