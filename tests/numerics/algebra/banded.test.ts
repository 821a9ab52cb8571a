import { describe, expect, it } from "vitest";
import {
  bandMatrix,
  factorBanded,
  solveBanded,
  solveBandSystem,
} from "../../../lib/numerics/algebra/banded.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

/** A random symmetric band matrix with a dominant diagonal, and its dense form. */
function example(size: number, halfBandwidth: number) {
  const random = seededRandom(7);
  const matrix = bandMatrix(size, halfBandwidth);
  const dense = Array.from({ length: size }, () => new Float64Array(size));
  for (let i = 0; i < size; i++) {
    for (let j = Math.max(0, i - halfBandwidth); j <= i; j++) {
      const value = i === j ? 2 * halfBandwidth + 2 : random.normal() / 2;
      matrix.lower[i * (halfBandwidth + 1) + halfBandwidth - i + j] = value;
      dense[i]![j] = value;
      dense[j]![i] = value;
    }
  }
  return { matrix, dense };
}

describe("factorBanded and solveBanded", () => {
  it.each([
    [1, 0, 1],
    [9, 1, 2],
    [40, 7, 3],
    [23, 22, 5],
  ])("solve order %i, half bandwidth %i and %i right-hand sides", (size, b, m) => {
    const { matrix, dense } = example(size, b);
    const random = seededRandom(11);
    const truth = Float64Array.from({ length: size * m }, () => random.normal());
    const columns = new Float64Array(size * m);
    for (let i = 0; i < size; i++) {
      for (let r = 0; r < m; r++) {
        columns[i * m + r] = dense[i]!.reduce((sum, a, j) => sum + a * truth[j * m + r]!, 0);
      }
    }
    factorBanded(matrix);
    solveBanded(matrix, columns, { m });
    // The matrix is well conditioned: rounding only.
    for (const [at, value] of columns.entries())
      expectClose(value, truth[at]!, { absolute: 1e-12 });
  });

  it("refuse a matrix that is not positive definite, and one with NaN", () => {
    for (const bad of [-1, 0, Number.NaN]) {
      const { matrix } = example(5, 1);
      matrix.lower[2 * 2 + 1] = bad;
      expect(() => factorBanded(matrix)).toThrow(/not positive definite \(row 2\)/);
    }
  });
});

describe("solveBandSystem", () => {
  it("gives the bits of factor and solve over blocks of rows and passes, each side from its row", () => {
    const [size, b] = [150, 9];
    const starts = Int32Array.from({ length: 19 }, (_, r) => 7 * r);
    const [{ matrix }, { matrix: factor }] = [example(size, b), example(size, b)];
    const columns = new Float64Array(size * starts.length);
    for (const [r, row] of starts.entries()) columns[row * starts.length + r] = 1;
    const [together, alone] = [columns.slice(), columns.slice()];
    solveBandSystem(matrix, together, starts);
    factorBanded(factor);
    for (const r of starts.keys()) {
      const column = columns.filter((_, at) => at % starts.length === r);
      solveBanded(factor, column, { m: 1 });
      for (const [i, value] of column.entries()) alone[i * starts.length + r] = value;
    }
    expect(together).toEqual(alone);
    expect(matrix.lower).toEqual(example(size, b).matrix.lower);
  });
});
