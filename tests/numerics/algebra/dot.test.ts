import { expect, it } from "vitest";
import { dot, rowProducts } from "../../../lib/numerics/algebra/dot.js";

it("dot is the inner product, 0 of empty vectors", () => {
  expect(dot(Float64Array.of(1, 2, 3), Float64Array.of(4, -5, 6))).toBe(12);
  expect(dot(new Float64Array(0), new Float64Array(0))).toBe(0);
});

it("rowProducts is a matrix times its transpose", () => {
  const products = rowProducts(Float64Array.of(1, 2, 3, 0, -1, 1), 2);
  expect(products).toEqual(Float64Array.of(14, 1, 1, 2));
});
