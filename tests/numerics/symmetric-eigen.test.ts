import { describe, expect, it } from "vitest";
import { seededRandom } from "../../lib/numerics/random.js";
import { symmetricEigen } from "../../lib/numerics/symmetric-eigen.js";
import { expectClose } from "../support/expect-close.js";

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
    expect(() => symmetricEigen(Float64Array.of(1, 0, Number.NaN, 1), 2)).toThrow(RangeError);
  });
});
