import { determinant, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  ChainElimination,
  chainMatrix,
  type StateChain,
} from "../../../lib/numerics/algebra/state-chain.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const M = 12;
const ROUNDING = { relative: 1e-9, absolute: 1e-12 };

/** Elements whose states die away, those at even places with a length of their own. */
function sampleChain() {
  const random = seededRandom(11);
  const some = (count: number, size: number) =>
    Float64Array.from({ length: count }, () => size * random.normal());
  const still = (k: number) => [1, 0, 0, 1][k % 4]!;
  const chain: StateChain = {
    entry: some(2 * M, 0.5),
    exit: some(2 * M, 0.5),
    after: some(4 * M, 0.4),
    across: some(4 * M, 0.4).map((one, k) => (Math.floor(k / 4) % 2 === 0 ? one : still(k))),
  };
  return { chain, diagonal: some(M, 0.3).map((one) => 3 + one), vectors: [some(M, 1), some(M, 1)] };
}

/** By the definition: entry_i · T · exit_j, T past all elements between. */
function byDefinition({ chain, diagonal }: ReturnType<typeof sampleChain>): Matrix {
  const square = (steps: Float64Array, k: number) =>
    Matrix.from1DArray(2, 2, steps.slice(4 * k, 4 * k + 4));
  const pair = (of: Float64Array, k: number) =>
    Matrix.columnVector([...of.slice(2 * k, 2 * k + 2)]);
  const matrix = Matrix.diagonal([...diagonal]);
  for (let j = 0; j < M; j++) {
    let states = pair(chain.exit, j);
    for (let i = j + 1; i < M; i++) {
      states = square(chain.after, i - 1).mmul(states);
      const product = pair(chain.entry, i).transpose().mmul(states).get(0, 0);
      matrix.set(i, j, product);
      matrix.set(j, i, product);
      states = square(chain.across, i).mmul(states);
    }
  }
  return matrix;
}

describe.each([
  ["all elements", [...Array(M).keys()]],
  ["a subset", [0, 3, 4, 8, 11]],
  ["one", [5]],
  ["none", []],
])("the matrix of a chain of states, %s", (_, chosen) => {
  const sample = sampleChain();
  const { vectors } = sample;
  const whole = byDefinition(sample).selection(chosen, chosen);

  it("is that of the definition", () => {
    const found = chainMatrix(sample.chain, { chosen, diagonal: sample.diagonal });
    for (const [k, one] of whole.to1DArray().entries()) expectClose(found[k]!, one, ROUNDING);
  });

  it("has the determinant, the products across its inverse, and that of a dense one", () => {
    const elimination = { ...sample, chosen };
    // Written over: by the whole chain first.
    const found = new ChainElimination(M, 2);
    found.run(sample.chain, { ...sample, chosen: [...Array(M).keys()] });
    found.run(sample.chain, elimination).invert(sample.chain, elimination);
    const turned = chosen.length === 0 ? new Matrix(0, 0) : inverse(whole);
    const expected = chosen.length === 0 ? 0 : Math.log(determinant(whole));
    expectClose(found.logDeterminant, expected, ROUNDING);
    for (let b = 0; b < 2; b++) {
      const solved = chosen.map((_, row) =>
        chosen.reduce((sum, j, column) => sum + turned.get(row, column) * vectors[b]![j]!, 0),
      );
      for (const [row, one] of solved.entries())
        expectClose(found.solved[2 * row + b]!, one, ROUNDING);
      for (let a = 0; a < 2; a++) {
        const product = chosen.reduce((sum, i, row) => sum + vectors[a]![i]! * solved[row]!, 0);
        expectClose(found.products[2 * a + b]!, product, ROUNDING);
      }
    }
    for (const row of chosen.keys())
      expectClose(found.inverse[row]!, turned.get(row, row), ROUNDING);
  });
});

it("refuses a matrix that is not positive definite, and one with NaN", () => {
  const { chain, diagonal } = sampleChain();
  for (const pivot of [-1, 0, Number.NaN]) {
    const spoilt = diagonal.with(4, pivot);
    const all = { chosen: [0, 4, 5], diagonal: spoilt, vectors: [] };
    expect(() => new ChainElimination(M, 0).run(chain, all)).toThrow(
      /not positive definite: element 5 has the pivot/,
    );
  }
});
