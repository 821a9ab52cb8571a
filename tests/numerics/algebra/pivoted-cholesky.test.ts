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
  /** A Aᵀ of a matrix of M rows. */
  const gram = (matrix: Float64Array) => {
    const n = matrix.length / M;
    return normalMatrix(transposed(matrix, n), M);
  };

  it("gives back a matrix of low rank in as many columns", () => {
    const matrix = transposed(rowsOf(4), M);
    const factor = pivotedCholesky(matrix, { m: M, leftTrace: 1e-9 });
    expect(factor).toHaveLength(4 * M);
    const [whole, back] = [gram(matrix), gram(factor)];
    for (const [at, value] of whole.entries()) expectClose(back[at]!, value, { absolute: 1e-9 });
  });

  it("leaves out no more than the trace asked for, and no less than nothing", () => {
    const matrix = transposed(rowsOf(12), M);
    const [whole, back] = [gram(matrix), gram(pivotedCholesky(matrix, { m: M, leftTrace: 9 }))];
    let trace = 0;
    for (let i = 0; i < M; i++) {
      const left = whole[i * M + i]! - back[i * M + i]!;
      expect(left).toBeGreaterThanOrEqual(-1e-12);
      trace += left;
    }
    expect(trace).toBeLessThanOrEqual(9);
    expect(trace).toBeGreaterThan(0);
  });

  it("gives nothing of a matrix of zeros", () => {
    const none = pivotedCholesky(new Float64Array(M * M), { m: M, leftTrace: 1e-9 });
    expect(none).toHaveLength(0);
  });
});

/** Of a matrix of so many columns. */
function transposed(matrix: Float64Array, columns: number): Float64Array {
  const rows = matrix.length / columns;
  return matrix.map((_, at) => matrix[(at % rows) * columns + Math.floor(at / rows)]!);
}
