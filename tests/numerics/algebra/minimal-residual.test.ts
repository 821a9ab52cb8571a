import { describe, expect, it } from "vitest";
import { minimalResidual } from "../../../lib/numerics/algebra/minimal-residual.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const n = 30;

function randomMatrix(): Float64Array {
  const random = seededRandom(5);
  return Float64Array.from({ length: n * n }, (_, at) => {
    const diagonal = at % n === Math.floor(at / n) ? 1 : 0;
    return diagonal + (0.5 * random.normal()) / n;
  });
}

function times(matrix: Float64Array, x: Float64Array): Float64Array {
  return Float64Array.from({ length: n }, (_, i) =>
    x.reduce((sum, value, j) => sum + matrix[i * n + j]! * value, 0),
  );
}

describe("minimalResidual", () => {
  it("recovers the solution of an unsymmetric system", () => {
    const matrix = randomMatrix();
    const random = seededRandom(6);
    const truth = Float64Array.from({ length: n }, () => random.normal());
    const options = { tolerance: 1e-12, maxSteps: 60 };
    const x = minimalResidual((v) => times(matrix, v), times(matrix, truth), options);
    // Condition number near 1, residual 1e-12.
    for (const [i, value] of x.entries()) expectClose(value, truth[i]!, { absolute: 1e-10 });
  });

  it("gives zero for zero", () => {
    const options = { tolerance: 1e-12, maxSteps: 60 };
    const x = minimalResidual((v) => v, new Float64Array(n), options);
    expect(Math.max(...x.map(Math.abs))).toBe(0);
  });
});
