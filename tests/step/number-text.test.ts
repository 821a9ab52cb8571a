import { expect, it } from "vitest";
import { significantText } from "../../lib/step/number-text.js";

it.each([
  [27.44, "27.4"],
  [46, "46.0"],
  [130.2, "130"],
  [999.6, "1,000"],
  [1512, "1,510"],
  [-25_440, "-25,400"],
  [0.0123, "0.0123"],
  [0, "0.00"],
])("%d reads %s with three significant digits", (value, text) => {
  expect(significantText(value)).toBe(text);
});

it("takes the number of digits", () => {
  expect(significantText(121.7, 2)).toBe("120");
  expect(significantText(1.268, 2)).toBe("1.3");
});
