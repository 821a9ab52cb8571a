import { describe, it } from "vitest";
import { positiveDefinite } from "../../../lib/numerics/algebra/dense.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { cellGraph } from "../../../lib/sections/invert/cell-graph.js";
import {
  effectiveParameters,
  gaussianPosterior,
  precisionNoise,
  priorPrecision,
  solvePosterior,
} from "../../../lib/sections/invert/gaussian-posterior.js";
import { expectClose } from "../../support/expect-close.js";

const graph = cellGraph({ x_m: [0, 1, 3, 4, 6], depth_m: [0, 1, 2, 4] });
const CELLS = 12;
const random = seededRandom(2);
const weight = graph.spread.map(() => 0.5 + random.uniform());
const anchor = new Float64Array(CELLS).fill(0.1);
const NOISE = 0.7;
/** Three directions, m × r, and their products over the noise, worked out by themselves. */
const directions = Float64Array.from({ length: 3 * CELLS }, () => random.normal());
const known = Float64Array.from({ length: CELLS * CELLS }, (_, at) => {
  const [i, j] = [3 * Math.floor(at / CELLS), 3 * (at % CELLS)];
  const of = (k: number) => directions[i + k]! * directions[j + k]!;
  return (of(0) + of(1) + of(2)) / NOISE;
});

/** The same precision as a dense matrix, worked out face by face. */
function dense(): { readonly prior: Float64Array; readonly all: Float64Array } {
  const prior = new Float64Array(CELLS * CELLS);
  const add = (i: number, j: number, value: number) => {
    prior[i * CELLS + j] = prior[i * CELLS + j]! + value;
  };
  for (let c = 0; c < CELLS; c++) add(c, c, anchor[c]!);
  for (const [face, value] of weight.entries()) {
    const [p, q] = [graph.first[face]!, graph.second[face]!];
    add(p, p, value);
    add(q, q, value);
    add(p, q, -value);
    add(q, p, -value);
  }
  return { prior, all: prior.map((value, at) => value + known[at]!) };
}

describe("gaussianPosterior", () => {
  const posterior = gaussianPosterior(priorPrecision(graph, weight, anchor), {
    ...{ directions, noise: NOISE },
  });
  const reference = positiveDefinite(dense().all, CELLS);

  it("solves as the dense precision does", () => {
    const right = Float64Array.from({ length: CELLS }, (_, c) => Math.cos(c));
    const solved = solvePosterior(posterior, right);
    for (const [c, value] of reference.solve(right).entries()) {
      expectClose(solved[c]!, value, { absolute: 1e-11 });
    }
  });

  it("draws with the variances of the dense inverse", () => {
    const n = 4000;
    const squares = new Float64Array(CELLS);
    for (let draw = 0; draw < n; draw++) {
      const x = solvePosterior(posterior, precisionNoise(posterior, random));
      x.forEach((value, c) => {
        squares[c] = squares[c]! + value ** 2 / n;
      });
    }
    // Five standard errors of a variance.
    for (const [c, variance] of reference.inverseDiagonal().entries()) {
      expectClose(squares[c]!, variance, { relative: 5 * Math.sqrt(2 / n) });
    }
  });

  it("counts the parameters that the readings decide as the trace of the resolution", () => {
    const { all } = dense();
    const solve = positiveDefinite(all, CELLS).solve;
    let trace = 0;
    for (let c = 0; c < CELLS; c++) trace += solve(known.slice(c * CELLS, (c + 1) * CELLS))[c]!;
    expectClose(effectiveParameters(posterior), trace, { absolute: 1e-10 });
  });
});
