import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { packedDegrees, readDegrees } from "../../../../lib/survey/import/values/degrees.js";
import { expectClose } from "../../../support/expect-close.js";

const POINT = { decimal: ".", group: null } as const;

describe("degrees", () => {
  it.each([
    ["52.5", 52.5],
    ["-5.25", -5.25],
    ["52° 30' N", 52.5],
    ["52 30.0 S", -52.5],
    ["W 5°15'00\"", -5.25],
    ["005°15.0'E", 5.25],
    ["5:15:00 W", -5.25],
  ])("of %s are %d", (text, degrees) => {
    expectClose(readDegrees(text, POINT), degrees, { absolute: 1e-12 });
  });

  it("with a comma are read with a comma", () => {
    expect(readDegrees("52°30,6'N", { decimal: ",", group: null })).toBeCloseTo(52.51, 12);
  });

  it.each(["", "N", "52 N S", "N 52 N", "52°61'N", "-52 S", "abc"])("are none in %j", (text) => {
    expect(readDegrees(text, POINT)).toBeNaN();
  });

  it("and minutes without a sign between come apart as they were put together", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 179 }),
        fc.double({ min: 0, max: 59.99, noNaN: true }),
        (d, m) => {
          // Rounding of 100 d + m, below 18,000.
          expectClose(packedDegrees(100 * d + m), d + m / 60, { absolute: 1e-12 });
        },
      ),
      { seed: 4, numRuns: 200 },
    );
    expect(packedDegrees(5261.5)).toBeNaN();
  });
});
