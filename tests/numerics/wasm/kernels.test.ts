import { describe, expect, it } from "vitest";
import { bandMatrix, factorBanded, solveBanded } from "../../../lib/numerics/algebra/banded.js";
import { normalMatrix } from "../../../lib/numerics/algebra/normal-matrix.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { passes, respaced, vectorKernels } from "../../../lib/numerics/wasm/kernels.js";

const random = seededRandom(23);
const normals = (length: number) => Float64Array.from({ length }, () => random.normal());

function bandExample(size: number, b: number) {
  const matrix = bandMatrix(size, b);
  for (let i = 0; i < size; i++) {
    for (let j = Math.max(0, i - b); j <= i; j++) {
      matrix.lower[i * (b + 1) + b - i + j] = i === j ? 2 * b + 2 : random.normal() / 2;
    }
  }
  return matrix;
}

/** The factor by plain sums, even and odd terms apart. */
function plainFactor(lower: Float64Array, size: number, b: number): Float64Array {
  const out = lower.slice();
  const at = (i: number, j: number) => i * (b + 1) + b - i + j;
  for (let i = 0; i < size; i++) {
    const first = Math.max(0, i - b);
    for (let j = first; j <= i; j++) {
      const sums = [0, 0];
      for (let t = first; t < j; t++) sums[(t - first) % 2]! += out[at(i, t)]! * out[at(j, t)]!;
      const left = out[at(i, j)]! - (sums[0]! + sums[1]!);
      out[at(i, j)] = i === j ? Math.sqrt(left) : left / out[at(j, j)]!;
    }
  }
  return out;
}

// Results that are shown to the last digit must not depend on how many columns stand side by side.
describe("kernels on pairs of doubles round as plain sums do", () => {
  it.each([
    [1, 0],
    [40, 7],
    [41, 8],
    [57, 13],
    [30, 29],
  ])("a band of order %i and half bandwidth %i is factored to the same bits", (size, b) => {
    const matrix = bandExample(size, b);
    const expected = plainFactor(matrix.lower, size, b);
    factorBanded(matrix);
    // What lies before the first column of the matrix is no entry.
    expect(matrix.lower).toEqual(expected);
  });

  it.each([4, 8, 9, 21])("%i right-hand sides are solved to the bits of each by itself", (m) => {
    const [size, b] = [60, 11];
    const factor = bandExample(size, b);
    factorBanded(factor);
    const columns = normals(size * m);
    const alone = Array.from({ length: m }, (_, e) => {
      const column = Float64Array.from({ length: size }, (_, i) => columns[i * m + e]!);
      solveBanded(factor, column, { m: 1 });
      return column;
    });
    solveBanded(factor, columns, { m });
    expect(columns).toEqual(
      Float64Array.from({ length: size * m }, (_, at) => alone[at % m]![Math.floor(at / m)]!),
    );
  });

  it.each([
    [3, 2],
    [64, 9],
    [71, 16],
    [130, 21],
  ])("AᵀA of %i rows and %i columns is summed four rows a step", (n, m) => {
    const a = normals(n * m);
    const term = (k: number, i: number, j: number) => (k < n ? a[k * m + i]! * a[k * m + j]! : 0);
    const expected = Float64Array.from({ length: m * m }, (_, at) => {
      const [i, j] = [Math.floor(at / m), at % m];
      let sum = 0;
      for (let k = 0; k < n; k += 4) {
        sum = sum + term(k, i, j) + term(k + 1, i, j) + (term(k + 2, i, j) + term(k + 3, i, j));
      }
      return sum;
    });
    expect(normalMatrix(a, m)).toEqual(expected);
  });

  it("eight rows are added with their shares", () => {
    const [wide, { run }] = [6, vectorKernels()];
    const [sum, rows] = vectorKernels().columns(wide, 8 * wide) as [Float64Array, Float64Array];
    const shares = normals(8);
    sum.set(normals(wide));
    rows.set(normals(8 * wide));
    const s = (n: number, e: number) => shares[n]! * rows[n * wide + e]!;
    const expected = sum.map((value, e) => {
      const one = s(0, e) + s(1, e) + (s(2, e) + s(3, e));
      return value + one + (s(4, e) + s(5, e) + (s(6, e) + s(7, e)));
    });
    const places = Array.from(shares, (_, n) => rows.byteOffset + 8 * n * wide);
    run.addEight(sum.byteOffset, 8 * wide, ...places, ...shares);
    expect(sum).toEqual(expected);
  });
});

describe("the kernels' memory", () => {
  it("grows with what is asked for, in columns that do not meet", () => {
    const [one, two] = vectorKernels().columns(300_000, 5) as [Float64Array, Float64Array];
    one.fill(1);
    two.fill(2);
    expect(one.every((value) => value === 1)).toBe(true);
    expect(two.byteOffset % 64).toBe(0);
  });

  it("takes rows apart and puts them back together", () => {
    const rows = normals(3 * 5);
    const apart = new Float64Array(3 * passes(5));
    respaced(rows, apart, [5, passes(5)]);
    expect(apart[8]).toBe(rows[5]);
    const back = new Float64Array(3 * 5);
    respaced(apart, back, [passes(5), 5]);
    expect(back).toEqual(rows);
  });
});
