import { inverse } from "ml-matrix";
import { describe, it } from "vitest";
import { factorBlockTridiagonal } from "../../../lib/numerics/algebra/block-tridiagonal.js";
import { selectedInverse } from "../../../lib/numerics/algebra/selected-inverse.js";
import { expectClose } from "../../support/expect-close.js";
import { BLOCKS, dense, ORDER, ROUNDING, sampleBlocks } from "../support/sample-blocks.js";

describe.each(["full", "diagonal"] as const)(
  "a block-tridiagonal matrix, %s blocks below",
  (kind) => {
    const whole = dense(sampleBlocks(kind));
    const factor = factorBlockTridiagonal(sampleBlocks(kind));

    it("gives the inverse's blocks on and next to the diagonal", () => {
      const expected = inverse(whole);
      const found = selectedInverse(factor);
      for (let i = 0; i < BLOCKS; i++) {
        for (let r = 0; r < ORDER; r++) {
          for (let c = 0; c < ORDER; c++) {
            const [row, column] = [i * ORDER + r, i * ORDER + c];
            expectClose(found.diagonal[row * ORDER + c]!, expected.get(row, column), ROUNDING);
            if (i + 1 === BLOCKS) continue;
            const off = expected.get(row + ORDER, column);
            expectClose(found.below[row * ORDER + c]!, off, ROUNDING);
          }
        }
      }
    });
  },
);
