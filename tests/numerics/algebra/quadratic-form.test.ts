import { Matrix } from "ml-matrix";
import { expect, it } from "vitest";
import { quadraticForm } from "../../../lib/numerics/algebra/quadratic-form.js";
import { expectClose } from "../../support/expect-close.js";

it("is the matrix product of weights, matrix and weights", () => {
  const values = [4, 1, -2, 1, 3, 0.5, -2, 0.5, 6];
  const w = Matrix.columnVector([0.3, 0, -1.2]);
  const expected = w
    .transpose()
    .mmul(Matrix.from1DArray(3, 3, values))
    .mmul(w)
    .get(0, 0);
  // Nine products: rounding alone.
  expectClose(quadraticForm(Float64Array.from(values), Float64Array.of(0.3, 0, -1.2)), expected, {
    absolute: 1e-14,
  });
  expect(quadraticForm(Float64Array.of(5), Float64Array.of(2))).toBe(20);
});
