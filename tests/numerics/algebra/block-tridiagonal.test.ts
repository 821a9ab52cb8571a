import { determinant } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  blockLogDeterminant,
  factorBlockTridiagonal,
} from "../../../lib/numerics/algebra/block-tridiagonal.js";
import { expectClose } from "../../support/expect-close.js";
import { dense, ORDER, sampleBlocks } from "../support/sample-blocks.js";

describe.each(["full", "diagonal"] as const)(
  "a block-tridiagonal matrix, %s blocks below",
  (kind) => {
    const whole = dense(sampleBlocks(kind));
    const factor = factorBlockTridiagonal(sampleBlocks(kind));

    it("has the dense matrix's determinant", () => {
      expectClose(blockLogDeterminant(factor), Math.log(determinant(whole)), { absolute: 1e-10 });
    });
  },
);

describe("factorBlockTridiagonal", () => {
  it("refuses a matrix that is not positive definite, NaN included", () => {
    for (const bad of [-1, Number.NaN]) {
      const matrix = sampleBlocks("full");
      matrix.diagonal[2 * ORDER * ORDER] = bad;
      expect(() => factorBlockTridiagonal(matrix)).toThrow(/not positive definite/);
    }
  });
});
