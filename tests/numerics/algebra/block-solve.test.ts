import { inverse, Matrix } from "ml-matrix";
import { describe, it } from "vitest";
import {
  blockBackSolve,
  blockForwardSolve,
  blockSolve,
} from "../../../lib/numerics/algebra/block-solve.js";
import { factorBlockTridiagonal } from "../../../lib/numerics/algebra/block-tridiagonal.js";
import { expectClose } from "../../support/expect-close.js";
import { dense, ROUNDING, SIZE, sampleBlocks } from "../support/sample-blocks.js";

describe.each(["full", "diagonal"] as const)(
  "a block-tridiagonal matrix, %s blocks below",
  (kind) => {
    const whole = dense(sampleBlocks(kind));
    const factor = factorBlockTridiagonal(sampleBlocks(kind));

    it("is solved for several right-hand sides as the dense matrix is", () => {
      const columns = Float64Array.from({ length: 2 * SIZE }, (_, k) => Math.sin(k));
      const right = Matrix.from1DArray(SIZE, 2, [...columns]);
      blockSolve(factor, columns, 2);
      const expected = inverse(whole).mmul(right);
      for (let k = 0; k < columns.length; k++) {
        expectClose(columns[k]!, expected.get(Math.floor(k / 2), k % 2), ROUNDING);
      }
    });

    it("gives rᵀ A⁻¹ r by the forward half alone", () => {
      const right = Float64Array.from({ length: SIZE }, (_, k) => Math.cos(k));
      const half = right.slice();
      blockForwardSolve(factor, half);
      const column = Matrix.columnVector([...right]);
      const expected = column.transpose().mmul(inverse(whole)).mmul(column).get(0, 0);
      expectClose(
        half.reduce((sum, value) => sum + value * value, 0),
        expected,
        ROUNDING,
      );
    });

    it("turns unit vectors by its back half into a root of the inverse", () => {
      // L⁻ᵀ L⁻¹ = A⁻¹, so draws L⁻ᵀ z of standard normal z have that covariance exactly.
      const roots = Array.from({ length: SIZE }, (_, k) => {
        const unit = new Float64Array(SIZE);
        unit[k] = 1;
        blockBackSolve(factor, unit);
        return unit;
      });
      const expected = inverse(whole);
      for (const [a, b] of [
        [0, 0],
        [4, 7],
        [14, 2],
      ] as const) {
        const sum = roots.reduce((total, root) => total + root[a]! * root[b]!, 0);
        expectClose(sum, expected.get(a, b), ROUNDING);
      }
    });
  },
);
