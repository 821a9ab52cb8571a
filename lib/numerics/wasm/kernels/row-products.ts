import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";

const FOUR = 32;

/**
 * The scalar products of one row with `count` rows, n entries each: four sums, of every fourth
 * place, of which the first takes what is left over. Addresses and distances are bytes.
 */
export const rowProducts: WasmFunction = wasmFunction(
  "rowProducts",
  {
    given: { out: "i32", one: "i32", rows: "i32", row: "i32", count: "i32", n: "i32" },
    locals: {
      ...{ p: "i32", q: "i32", whole: "i32", end: "i32" },
      ...{ upper: "v128", lower: "v128", zero: "v128", first: "f64" },
    },
  },
  (v) => {
    const { get } = c;
    const added = (sum: number, offset: number) =>
      c.v2Add(get(sum), c.v2Mul(c.v2Load(get(v.p), offset), c.v2Load(get(v.q), offset)));
    const across = (sum: number) => c.v2Lane(get(sum), 1);
    const left = c.f64Mul(c.f64Load(get(v.p)), c.f64Load(get(v.q)));
    return c.during(c.isBelow(c.i32(0), get(v.count)), [
      c.set(v.p, get(v.one)),
      c.set(v.q, get(v.rows)),
      c.set(v.whole, c.plus(get(v.p), c.times(c.bitsOf(get(v.n), c.i32(-4)), c.i32(8)))),
      c.set(v.end, c.plus(get(v.p), c.times(get(v.n), c.i32(8)))),
      c.set(v.upper, get(v.zero)),
      c.set(v.lower, get(v.zero)),
      c.during(c.isBelow(get(v.p), get(v.whole)), [
        c.set(v.upper, added(v.upper, 0)),
        c.set(v.lower, added(v.lower, 16)),
        c.advance(v.p, c.i32(FOUR)),
        c.advance(v.q, c.i32(FOUR)),
      ]),
      c.set(v.first, c.v2Lane(get(v.upper), 0)),
      c.during(c.isBelow(get(v.p), get(v.end)), [
        c.set(v.first, c.f64Add(get(v.first), left)),
        c.advance(v.p, c.i32(8)),
        c.advance(v.q, c.i32(8)),
      ]),
      c.f64Store(
        get(v.out),
        c.f64Add(
          c.f64Add(get(v.first), across(v.upper)),
          c.f64Add(c.v2Lane(get(v.lower), 0), across(v.lower)),
        ),
      ),
      c.advance(v.out, c.i32(8)),
      c.advance(v.rows, get(v.row)),
      c.advance(v.count, c.i32(-1)),
    ]);
  },
);
