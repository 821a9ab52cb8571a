import { determinant, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { blockBackSolve, blockForwardSolve, blockSolve } from "../../lib/numerics/block-solve.js";
import {
  type BlockTridiagonal,
  blockLogDeterminant,
  blockTridiagonal,
  factorBlockTridiagonal,
} from "../../lib/numerics/block-tridiagonal.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { selectedInverse } from "../../lib/numerics/selected-inverse.js";
import { expectClose } from "../support/expect-close.js";

const BLOCKS = 5;
const ORDER = 3;
const SIZE = BLOCKS * ORDER;

/**
 * A seeded matrix that is positive definite by its diagonal, with full or diagonal blocks below.
 */
function sample(below: "full" | "diagonal"): BlockTridiagonal {
  const random = seededRandom(below === "full" ? 3 : 4);
  const matrix = blockTridiagonal(BLOCKS, ORDER);
  for (let i = 0; i < BLOCKS; i++) {
    for (let r = 0; r < ORDER; r++) {
      for (let c = 0; c <= r; c++) {
        matrix.diagonal[(i * ORDER + r) * ORDER + c] =
          r === c ? 8 + random.uniform() : random.normal();
      }
      for (let c = 0; i + 1 < BLOCKS && c < ORDER; c++) {
        if (below === "full" || r === c) {
          matrix.below[(i * ORDER + r) * ORDER + c] = random.normal();
        }
      }
    }
  }
  return matrix;
}

/** The same matrix with all its zeros. */
function dense(matrix: BlockTridiagonal): Matrix {
  const out = Matrix.zeros(SIZE, SIZE);
  for (let i = 0; i < BLOCKS; i++) {
    for (let r = 0; r < ORDER; r++) {
      for (let c = 0; c < ORDER; c++) {
        const [row, column] = [i * ORDER + r, i * ORDER + c];
        if (c <= r) {
          out.set(row, column, matrix.diagonal[row * ORDER + c]!);
          out.set(column, row, matrix.diagonal[row * ORDER + c]!);
        }
        if (i + 1 < BLOCKS) {
          out.set(row + ORDER, column, matrix.below[row * ORDER + c]!);
          out.set(column, row + ORDER, matrix.below[row * ORDER + c]!);
        }
      }
    }
  }
  return out;
}

// Orders of 15 and condition numbers under 10: rounding alone, with room.
const ROUNDING = { absolute: 1e-12 };

describe.each(["full", "diagonal"] as const)(
  "a block-tridiagonal matrix, %s blocks below",
  (kind) => {
    const whole = dense(sample(kind));
    const factor = factorBlockTridiagonal(sample(kind));

    it("is solved for several right-hand sides as the dense matrix is", () => {
      const columns = Float64Array.from({ length: 2 * SIZE }, (_, k) => Math.sin(k));
      const right = Matrix.from1DArray(SIZE, 2, [...columns]);
      blockSolve(factor, columns, 2);
      const expected = inverse(whole).mmul(right);
      for (let k = 0; k < columns.length; k++) {
        expectClose(columns[k]!, expected.get(Math.floor(k / 2), k % 2), ROUNDING);
      }
    });

    it("has the dense matrix's determinant", () => {
      expectClose(blockLogDeterminant(factor), Math.log(determinant(whole)), { absolute: 1e-10 });
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

describe("factorBlockTridiagonal", () => {
  it("refuses a matrix that is not positive definite, NaN included", () => {
    for (const bad of [-1, Number.NaN]) {
      const matrix = sample("full");
      matrix.diagonal[2 * ORDER * ORDER] = bad;
      expect(() => factorBlockTridiagonal(matrix)).toThrow(/not positive definite/);
    }
  });
});
