import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";
import { PASS } from "./subtract-rows.js";

const PAIRS = [0, 1, 2, 3] as const;

/** One pair of a sum and its four products, in the order in which they are added. */
type Adding = (sum: c.Code, products: readonly c.Code[]) => c.Code;

const inPairs: Adding = (sum, [a, b, d, e]) =>
  c.v2Add(c.v2Add(sum, c.v2Add(a!, b!)), c.v2Add(d!, e!));

const inTurn: Adding = (sum, [a, b, d, e]) =>
  c.v2Add(c.v2Add(c.v2Add(sum, a!), b!), c.v2Add(d!, e!));

/**
 * Adds Σ over rows of a_i b_j to `sum`, j < i + `diagonal`; four rows a step. Addresses and
 * distances are bytes: rows of a and b lie `row` apart and those of the sum `sumRow`, both in whole
 * passes. Entries beyond the diagonal, to the end of the pass, are overwritten.
 */
function addingProducts(name: string, adding: Adding): WasmFunction {
  return wasmFunction(
    name,
    {
      given: {
        ...{ sum: "i32", sumRow: "i32", a: "i32", b: "i32" },
        ...{ row: "i32", rows: "i32", count: "i32", diagonal: "i32" },
      },
      locals: {
        ...{ i: "i32", along: "i32", to: "i32", at: "i32", stop: "i32", p: "i32", q: "i32" },
        ...{ one: "v128", two: "v128", three: "v128", four: "v128", r: "i32", leap: "i32" },
        ...{ sum0: "v128", sum1: "v128", sum2: "v128", sum3: "v128" },
      },
    },
    (v) => {
      const sums = [v.sum0, v.sum1, v.sum2, v.sum3];
      const shares = [v.one, v.two, v.three, v.four];
      const get = c.get;
      // The pairs' products of one row are taken before the next: four sums stand in registers.
      const row = (n: number) =>
        n === 0 ? get(v.q) : c.plus(get(v.q), c.times(get(v.row), c.i32(n)));
      const product = (n: number, pair: number) =>
        c.v2Mul(get(shares[n]!), c.v2Load(row(n), 16 * pair));
      const step = (pair: number) => {
        const products = PAIRS.map((n) => product(n, pair));
        return c.set(sums[pair]!, adding(get(sums[pair]!), products));
      };
      const share = (n: number): c.Code => [
        c.set(shares[n]!, c.v2LoadBoth(get(v.p))),
        c.advance(v.p, get(v.row)),
      ];
      return [
        c.set(v.leap, c.times(get(v.row), c.i32(4))),
        c.set(v.stop, c.plus(get(v.b), c.times(get(v.row), get(v.rows)))),
        c.during(c.isBelow(get(v.i), get(v.count)), [
          c.set(v.along, c.i32(0)),
          c.set(v.to, c.times(c.plus(get(v.i), get(v.diagonal)), c.i32(8))),
          c.during(c.isBelow(get(v.along), get(v.to)), [
            c.set(v.at, c.plus(get(v.sum), get(v.along))),
            PAIRS.map((pair) => c.set(sums[pair]!, c.v2Load(get(v.at), 16 * pair))),
            c.set(v.p, c.plus(get(v.a), c.times(get(v.i), c.i32(8)))),
            c.set(v.q, c.plus(get(v.b), get(v.along))),
            c.set(v.r, c.plus(get(v.stop), get(v.along))),
            c.during(c.isBelow(get(v.q), get(v.r)), [
              PAIRS.map(share),
              PAIRS.map(step),
              c.advance(v.q, get(v.leap)),
            ]),
            PAIRS.map((pair) => c.v2Store(get(v.at), get(sums[pair]!), 16 * pair)),
            c.advance(v.along, c.i32(8 * PASS)),
          ]),
          c.advance(v.sum, get(v.sumRow)),
          c.advance(v.i, c.i32(1)),
        ]),
      ];
    },
  );
}

export const productFunctions: readonly WasmFunction[] = [
  addingProducts("addProductsInPairs", inPairs),
  addingProducts("addProductsInTurn", inTurn),
];
