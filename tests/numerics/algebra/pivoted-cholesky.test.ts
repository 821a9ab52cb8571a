import { describe, expect, it } from "vitest";
import { normalMatrix } from "../../../lib/numerics/algebra/normal-matrix.js";
import { pivotedCholesky } from "../../../lib/numerics/algebra/pivoted-cholesky.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const M = 9;

/** A random matrix of n rows. */
function rowsOf(n: number): Float64Array {
  const random = seededRandom(3);
  return Float64Array.from({ length: n * M }, () => random.normal());
}

describe("normalMatrix", () => {
  it.each([1, 4, 7, 12])("is the products of columns, for %i rows", (n) => {
    const matrix = rowsOf(n);
    const product = normalMatrix(matrix, M);
    for (let i = 0; i < M; i++) {
      for (let j = 0; j < M; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += matrix[k * M + i]! * matrix[k * M + j]!;
        expectClose(product[i * M + j]!, sum, { absolute: 1e-12 });
      }
    }
  });
});

describe("pivotedCholesky", () => {
  const ones = new Float64Array(M).fill(1);

  it("gives back a matrix of low rank in as many rows", () => {
    const matrix = normalMatrix(rowsOf(4), M);
    const factor = pivotedCholesky(matrix, { scale: ones, tolerance: 1e-9 });
    expect(factor).toHaveLength(4 * M);
    const back = normalMatrix(factor, M);
    for (const [at, value] of matrix.entries()) expectClose(back[at]!, value, { absolute: 1e-9 });
  });

  it("leaves out no more than the tolerance on any diagonal entry", () => {
    const matrix = normalMatrix(rowsOf(12), M);
    const back = normalMatrix(pivotedCholesky(matrix, { scale: ones, tolerance: 2 }), M);
    for (let i = 0; i < M; i++) {
      const left = matrix[i * M + i]! - back[i * M + i]!;
      expect(left).toBeLessThanOrEqual(2);
      expect(left).toBeGreaterThanOrEqual(-1e-12);
    }
  });

  it("gives nothing of a matrix of zeros", () => {
    const none = pivotedCholesky(new Float64Array(M * M), { scale: ones, tolerance: 1e-9 });
    expect(none).toHaveLength(0);
  });
});
