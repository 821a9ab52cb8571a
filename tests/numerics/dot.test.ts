import { expect, it } from "vitest";
import { dot } from "../../lib/numerics/dot.js";

it("dot is the inner product, 0 of empty vectors", () => {
  expect(dot(Float64Array.of(1, 2, 3), Float64Array.of(4, -5, 6))).toBe(12);
  expect(dot(new Float64Array(0), new Float64Array(0))).toBe(0);
});
