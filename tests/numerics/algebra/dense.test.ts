import { describe, expect, it } from "vitest";
import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
} from "../../../lib/numerics/algebra/cholesky.js";
import { positiveDefinite, symmetricEigen } from "../../../lib/numerics/algebra/dense.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

describe("symmetricEigen", () => {
  it("gives the eigenvalues of the second-difference matrix, which are known", () => {
    // 2 − 2 cos(kπ/(m + 1)), k = 1 … m (Golub & Van Loan 2013, section 4.8).
    const m = 12;
    const matrix = Float64Array.from({ length: m * m }, (_, at) => {
      const apart = Math.abs(Math.floor(at / m) - (at % m));
      return apart === 0 ? 2 : apart === 1 ? -1 : 0;
    });
    const { value } = symmetricEigen(matrix, m);
    for (let k = 1; k <= m; k++) {
      expectClose(value[m - k]!, 2 - 2 * Math.cos((k * Math.PI) / (m + 1)), { absolute: 1e-14 });
    }
  });

  it("takes a random matrix apart so that it can be put together again", () => {
    const m = 15;
    const random = seededRandom(5);
    const matrix = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j <= i; j++) {
        matrix[i * m + j] = random.normal();
        matrix[j * m + i] = matrix[i * m + j]!;
      }
    }
    const { value, vector } = symmetricEigen(matrix, m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) {
        let [again, product] = [0, 0];
        for (let k = 0; k < m; k++) {
          again += vector[i * m + k]! * value[k]! * vector[j * m + k]!;
          product += vector[k * m + i]! * vector[k * m + j]!;
        }
        expectClose(again, matrix[i * m + j]!, { absolute: 1e-13 });
        expectClose(product, i === j ? 1 : 0, { absolute: 1e-13 });
      }
    }
    for (let k = 1; k < m; k++) expect(value[k]!).toBeLessThanOrEqual(value[k - 1]!);
  });

  it("refuses a matrix with an entry that is not finite", () => {
    expect(() => symmetricEigen(Float64Array.of(1, 0, Number.NaN, 1), 2)).toThrow(
      "entry 1, 0 is NaN",
    );
  });
});

describe("positiveDefinite", () => {
  /** Unit of each unknown: seven decades apart, so that only scaling keeps the condition low. */
  const unit = [1, 3.3e-4, 7.1e2];
  const matrix = Float64Array.of(4, 2, -1, 2, 5, 0.5, -1, 0.5, 3).map(
    (value, at) => value / (unit[Math.floor(at / 3)]! * unit[at % 3]!),
  );
  const before = [...matrix];
  const made = positiveDefinite(matrix, 3);

  it("solves as Cholesky's factor of the matrix does, and leaves the matrix alone", () => {
    const factor = choleskyFactor(matrix, 3);
    const right = Float64Array.of(1, -2, 3);
    const expected = choleskySolve(factor, 3, right);
    for (const [i, value] of made.solve(right).entries()) {
      expectClose(value, expected[i]!, { relative: 1e-13 });
    }
    for (const [i, value] of made.inverseDiagonal().entries()) {
      const column = choleskySolve(
        factor,
        3,
        Float64Array.from([0, 1, 2], (k) => (k === i ? 1 : 0)),
      );
      expectClose(value, column[i]!, { relative: 1e-13 });
    }
    expectClose(made.logDeterminant, choleskyLogDeterminant(factor, 3), { relative: 1e-14 });
    expect([...matrix]).toEqual(before);
    expect([...right]).toEqual([1, -2, 3]);
  });

  it("has a condition number that units do not change", () => {
    // By hand: a 2 × 2 matrix of correlation r has eigenvalues 1 ± r.
    expectClose(positiveDefinite(Float64Array.of(1, 0.5, 0.5, 1), 2).condition, 3, {
      relative: 1e-14,
    });
    expectClose(positiveDefinite(Float64Array.of(1e8, 0.5, 0.5, 1e-8), 2).condition, 3, {
      relative: 1e-14,
    });
  });

  it("reads the lower triangle alone", () => {
    const { solve } = positiveDefinite(Float64Array.of(4, Number.NaN, 2, 5), 2);
    // 4x + 2y = 8 and 2x + 5y = 12, by hand.
    for (const [i, value] of solve(Float64Array.of(8, 12)).entries()) {
      expectClose(value, [1, 2][i]!, { relative: 1e-14 });
    }
  });

  it("refuses a matrix that is singular, nearly so, not positive or not finite", () => {
    const bad: readonly (readonly [number[], string])[] = [
      [[1, 1, 1, 1], "not positive definite to working precision"],
      [[1, 1 - 1e-14, 1 - 1e-14, 1], "not positive definite to working precision"],
      [[1, 2, 2, 1], "eigenvalues run from -1.00 to 3.00"],
      [[0, 0, 0, 1], "not positive definite to working precision"],
      [[-1, 0, 0, 1], "not positive definite to working precision"],
      [[1, 0, 0, Infinity], "entry 1, 1 is Infinity"],
    ];
    for (const [values, text] of bad) {
      expect(() => positiveDefinite(Float64Array.from(values), 2)).toThrow(text);
    }
  });
});
