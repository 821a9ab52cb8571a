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

  it("an element's eight rows are added with their shares", () => {
    const [wide, { run }] = [6, vectorKernels()];
    const [sum, rows, share, place] = vectorKernels().columns(9 * wide, 9 * wide, 64, 4) as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const nodes = [3, 0, 1, 8, 4, 5, 7, 2];
    for (const column of [sum, rows, share]) column.set(normals(column.length));
    new Int32Array(place.buffer, place.byteOffset, 8).set(nodes.map((node) => 8 * wide * node));
    const expected = sum.map((value, at) => {
      const [p, e] = [nodes.indexOf(Math.floor(at / wide)), at % wide];
      if (p < 0) return value;
      const s = (n: number) => share[8 * p + n]! * rows[nodes[n]! * wide + e]!;
      return value + (s(0) + s(1) + (s(2) + s(3))) + (s(4) + s(5) + (s(6) + s(7)));
    });
    const given = [sum.byteOffset, rows.byteOffset, place.byteOffset, share.byteOffset];
    run.addElement(...given, 8 * wide);
    expect(sum).toEqual(expected);
  });

  it.each([3, 8, 13])("products of rows of %i entries are four sums", (n) => {
    const count = 5;
    const [rows, out] = vectorKernels().columns(count * n, count) as [Float64Array, Float64Array];
    rows.set(normals(count * n));
    const expected = Array.from({ length: count }, (_, i) => {
      const sums = [0, 0, 0, 0];
      for (let k = 0; k < n; k++) {
        sums[k < n - (n % 4) ? k % 4 : 0]! += rows[2 * n + k]! * rows[i * n + k]!;
      }
      return sums[0]! + sums[1]! + (sums[2]! + sums[3]!);
    });
    const one = rows.byteOffset + 16 * n;
    vectorKernels().run.rowProducts(out.byteOffset, one, rows.byteOffset, 8 * n, count, n);
    expect([...out]).toEqual(expected);
  });
});

describe("kernels of the depth slices round as plain sums do", () => {
  const { run } = vectorKernels();
  const columns = (...lengths: number[]) => vectorKernels().columns(...lengths) as Float64Array[];

  it("multiples of rows are added one after the other, with a triangle's widths", () => {
    const [rows, count, wide] = [7, 11, 16];
    const [sum, a, b] = columns(count * wide, rows * wide, rows * wide) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    for (const column of [sum, a, b]) column.set(normals(column.length));
    const expected = Array.from({ length: count }, (_, i) =>
      Array.from({ length: i + 1 }, (_, j) => {
        let total = sum[i * wide + j]!;
        for (let k = 0; k < rows; k++) total += a[k * wide + i]! * b[k * wide + j]!;
        return total;
      }),
    );
    run.addMultiples(
      ...[sum.byteOffset, 8 * wide, a.byteOffset, 8 * wide, 8],
      ...[b.byteOffset, 8 * wide, rows, count, 8, 8],
    );
    for (const [i, row] of expected.entries()) {
      expect([...sum.subarray(i * wide, i * wide + i + 1)]).toEqual(row);
    }
  });

  it("layers are added to their blocks, and written to rows of their own", () => {
    const [layers, c, wide] = [4, 5, 6];
    const [out, given, block] = columns(6 * wide, (layers * c + wide) / 2 + 1, 1) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const values = Float32Array.from(normals(layers * c));
    new Float32Array(given.buffer, given.byteOffset, values.length).set(values);
    new Uint8Array(block.buffer, block.byteOffset, layers).set([0, 0, 1, 1]);
    out.fill(0);
    const own = out.byteOffset + 16 * wide;
    run.layerDirections(
      ...[given.byteOffset, 4 * c, layers, block.byteOffset],
      ...[out.byteOffset, own, 8 * wide, 0.2, 0.3],
    );
    for (let d = 0; d < c; d++) {
      const at = (j: number) => values[j * c + d]!;
      expect(out[d]).toBe(0.2 * at(0) + 0.2 * at(1));
      expect(out[wide + d]).toBe(0.2 * at(2) + 0.2 * at(3));
      for (let j = 0; j < layers; j++) expect(out[(2 + j) * wide + d]).toBe(0.3 * at(j));
    }
  });

  it("a member's score is that of each reading by itself, or below what it has to reach", () => {
    const [r, count] = [5, 9];
    const half = (r * (r + 1)) / 2;
    const sizes = [16 * count, count, (count * r + 1) / 2, (count * half + 1) / 2, 16 * r, 16 * r];
    const [score, constant, value, inverse, own, left, least] = columns(
      ...sizes.map(Math.ceil),
      16,
    ) as [Float64Array, ...Float64Array[]];
    const singles = (column: Float64Array, length: number) =>
      new Float32Array(column.buffer, column.byteOffset, length);
    const [v, l] = [singles(value!, count * r), singles(inverse!, count * half)];
    for (const column of [constant!, own!]) column.set(normals(column.length));
    v.set(normals(v.length));
    l.set(normals(l.length));
    least!.set(Float64Array.from({ length: 16 }, (_, s) => -3 - s / 4));
    run.scoreMembers(
      ...[score.byteOffset, constant!.byteOffset, value!.byteOffset, inverse!.byteOffset],
      ...[count, r, own!.byteOffset, left!.byteOffset, least!.byteOffset],
    );
    for (let k = 0; k < count; k++) {
      for (let s = 0; s < 16; s++) {
        let total = constant![k]!;
        const residual = Array.from({ length: r }, (_, i) => own![i * 16 + s]! - v[k * r + i]!);
        for (let i = 0, at = k * half; i < r; at += ++i) {
          let sum = l[at + i]! * residual[i]!;
          for (let j = 0; j < i; j++) sum += l[at + j]! * residual[j]!;
          total -= 0.5 * sum * sum;
        }
        const found = score[16 * k + s]!;
        if (total >= least![s]!) expect(found).toBe(total);
        else expect(found).toBeLessThan(least![s]!);
      }
    }
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
