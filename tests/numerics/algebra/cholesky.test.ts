import { describe, expect, it } from "vitest";
import {
  choleskyFactor,
  choleskyInverse,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../../lib/numerics/algebra/cholesky.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

/** B Bᵀ + I for a random B: well-conditioned and positive definite. */
function randomMatrix(m: number): Float64Array {
  const random = seededRandom(m);
  const b = Float64Array.from({ length: m * m }, random.normal);
  return Float64Array.from({ length: m * m }, (_, at) => {
    const [i, j] = [Math.floor(at / m), at % m];
    let sum = i === j ? 1 : 0;
    for (let k = 0; k < m; k++) sum += b[i * m + k]! * b[j * m + k]!;
    return sum;
  });
}

describe("choleskyFactor", () => {
  it("gives the factor worked out by hand and leaves the matrix alone", () => {
    const matrix = Float64Array.of(4, 2, 2, 5);
    expect([...choleskyFactor(matrix, 2)]).toEqual([2, 0, 1, 2]);
    expect([...matrix]).toEqual([4, 2, 2, 5]);
  });

  it("refuses a matrix that is not positive definite, and one with NaN", () => {
    expect(() => choleskyFactor(Float64Array.of(1, 1, 1, 1), 2)).toThrow(
      "the matrix is not positive definite: pivot 2 of 2 is 0",
    );
    expect(() => choleskyFactor(Float64Array.of(1, Number.NaN, Number.NaN, 1), 2)).toThrow("NaN");
  });
});

describe("choleskySolve and its relatives", () => {
  const m = 40;
  const matrix = randomMatrix(m);
  const factor = choleskyFactor(matrix, m);
  const truth = Float64Array.from({ length: m }, (_, i) => Math.sin(i));
  const right = Float64Array.from({ length: m }, (_, i) =>
    truth.reduce((sum, value, j) => sum + matrix[i * m + j]! * value, 0),
  );

  it("recover the solution that made the right side", () => {
    const solution = choleskySolve(factor, m, right);
    // Condition number of some hundreds: 1e-12 leaves room for it.
    for (let i = 0; i < m; i++) expectClose(solution[i]!, truth[i]!, { absolute: 1e-12 });
  });

  it("give the quadratic form that solutions give", () => {
    const half = forwardSolve(factor, m, right);
    const form = truth.reduce((sum, value, i) => sum + value * right[i]!, 0);
    expectClose(
      half.reduce((sum, value) => sum + value * value, 0),
      form,
      { relative: 1e-12 },
    );
  });

  it("give the inverse worked out by hand", () => {
    // [4 2; 2 5] has the determinant 16.
    const inverse = choleskyInverse(choleskyFactor(Float64Array.of(4, 2, 2, 5), 2), 2);
    for (const [at, value] of [5 / 16, -2 / 16, -2 / 16, 4 / 16].entries()) {
      expectClose(inverse[at]!, value, { absolute: 1e-15 });
    }
  });

  it("give the determinant worked out by hand", () => {
    const small = choleskyFactor(Float64Array.of(4, 2, 2, 5), 2);
    expectClose(choleskyLogDeterminant(small, 2), Math.log(16), { relative: 1e-15 });
  });
});
