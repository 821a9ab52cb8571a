import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";

/** Doubles that a pass of a kernel goes along a row by, in pairs. */
export const PASS = 8;
const PAIRS = [0, 1, 2, 3] as const;

/**
 * Row `to` less the sum of coefficient × row over the rows from … end, over the pivot. Addresses
 * and distances are bytes; rows lie `row` apart, coefficients `stride`, and `width` is in whole
 * passes.
 */
export const subtractRows: WasmFunction = wasmFunction(
  "subtractRows",
  {
    given: {
      ...{ to: "i32", from: "i32", end: "i32", row: "i32" },
      ...{ width: "i32", coefficient: "i32", stride: "i32", pivot: "f64" },
    },
    locals: {
      ...{ along: "i32", at: "i32", stop: "i32", second: "i32", third: "i32", fourth: "i32" },
      ...{ one: "v128", two: "v128", three: "v128", four: "v128", by: "v128" },
      ...{ sum0: "v128", sum1: "v128", sum2: "v128", sum3: "v128" },
    },
  },
  (v) => {
    const sums = [v.sum0, v.sum1, v.sum2, v.sum3];
    const get = c.get;
    const target = c.plus(get(v.to), get(v.along));
    const source = (row: number, pair: number) => c.v2Load(get(row), 16 * pair);
    const nextCoefficient = (into: number): c.Code => [
      c.set(into, c.v2LoadBoth(get(v.at))),
      c.advance(v.at, get(v.stride)),
    ];
    const four = (pair: number) => {
      const upper = c.v2Add(
        c.v2Mul(get(v.one), source(v.from, pair)),
        c.v2Mul(get(v.two), source(v.second, pair)),
      );
      const lower = c.v2Add(
        c.v2Mul(get(v.three), source(v.third, pair)),
        c.v2Mul(get(v.four), source(v.fourth, pair)),
      );
      return c.set(sums[pair]!, c.v2Sub(c.v2Sub(get(sums[pair]!), upper), lower));
    };
    const single = (pair: number) =>
      c.set(sums[pair]!, c.v2Sub(get(sums[pair]!), c.v2Mul(get(v.one), source(v.from, pair))));
    const leap = c.times(get(v.row), c.i32(4));
    return [
      c.set(v.by, c.v2Both(get(v.pivot))),
      c.set(v.stop, c.minus(get(v.end), get(v.from))),
      c.during(c.isBelow(get(v.along), get(v.width)), [
        c.set(v.at, get(v.coefficient)),
        PAIRS.map((pair) => c.set(sums[pair]!, c.v2Load(target, 16 * pair))),
        c.set(v.end, c.plus(get(v.from), get(v.stop))),
        c.set(v.second, c.plus(get(v.from), get(v.row))),
        c.set(v.third, c.plus(get(v.second), get(v.row))),
        c.set(v.fourth, c.plus(get(v.third), get(v.row))),
        c.during(c.isBelow(get(v.fourth), get(v.end)), [
          [v.one, v.two, v.three, v.four].map(nextCoefficient),
          PAIRS.map(four),
          [v.from, v.second, v.third, v.fourth].map((row) => c.advance(row, leap)),
        ]),
        c.during(c.isBelow(get(v.from), get(v.end)), [
          nextCoefficient(v.one),
          PAIRS.map(single),
          c.advance(v.from, get(v.row)),
        ]),
        PAIRS.map((pair) => c.v2Store(target, c.v2Div(get(sums[pair]!), get(v.by)), 16 * pair)),
        c.advance(v.along, c.i32(8 * PASS)),
        c.set(v.from, c.plus(c.minus(get(v.end), get(v.stop)), c.i32(8 * PASS))),
      ]),
    ];
  },
);
