import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";
import { PASS } from "./subtract-rows.js";

const PAIRS = [0, 1, 2, 3] as const;

/**
 * Adds to each of `count` rows Σ coefficient × row of b, one row after the other. Addresses and
 * distances are bytes: coefficients lie `stride` apart, those of the next sum `leap` on; rows of b
 * lie `row` apart and those of the sums `sumRow`, in whole passes. The first sum is `width` bytes
 * wide, each later one `more`; entries beyond, to the end of the pass, are overwritten.
 */
export const addMultiples: WasmFunction = wasmFunction(
  "addMultiples",
  {
    given: {
      ...{ sum: "i32", sumRow: "i32", a: "i32", stride: "i32", leap: "i32" },
      ...{ b: "i32", row: "i32", rows: "i32", count: "i32", width: "i32", more: "i32" },
    },
    locals: {
      ...{ along: "i32", at: "i32", p: "i32", q: "i32", stop: "i32", one: "v128" },
      ...{ sum0: "v128", sum1: "v128", sum2: "v128", sum3: "v128" },
    },
  },
  (v) => {
    const { get } = c;
    const sums = [v.sum0, v.sum1, v.sum2, v.sum3];
    const added = (pair: number) =>
      c.v2Add(get(sums[pair]!), c.v2Mul(get(v.one), c.v2Load(get(v.q), 16 * pair)));
    const pass: c.Code = [
      c.set(v.at, c.plus(get(v.sum), get(v.along))),
      PAIRS.map((pair) => c.set(sums[pair]!, c.v2Load(get(v.at), 16 * pair))),
      c.set(v.p, get(v.a)),
      c.set(v.q, c.plus(get(v.b), get(v.along))),
      c.set(v.stop, c.plus(get(v.q), c.times(get(v.row), get(v.rows)))),
      c.during(c.isBelow(get(v.q), get(v.stop)), [
        c.set(v.one, c.v2LoadBoth(get(v.p))),
        PAIRS.map((pair) => c.set(sums[pair]!, added(pair))),
        c.advance(v.p, get(v.stride)),
        c.advance(v.q, get(v.row)),
      ]),
      PAIRS.map((pair) => c.v2Store(get(v.at), get(sums[pair]!), 16 * pair)),
      c.advance(v.along, c.i32(8 * PASS)),
    ];
    return c.during(c.isBelow(c.i32(0), get(v.count)), [
      c.set(v.along, c.i32(0)),
      c.during(c.isBelow(get(v.along), get(v.width)), pass),
      c.advance(v.sum, get(v.sumRow)),
      c.advance(v.a, get(v.leap)),
      c.advance(v.width, get(v.more)),
      c.advance(v.count, c.i32(-1)),
    ]);
  },
);
