import * as c from "../code.js";
import { type ValueType, type WasmFunction, wasmFunction } from "../module-bytes.js";

/** Nodes of an element. */
const NODES = Array.from({ length: 8 }, (_, n) => n);

function named(letter: string, type: ValueType): Readonly<Record<string, ValueType>> {
  return Object.fromEntries(NODES.map((n) => [`${letter}${n}`, type]));
}

/**
 * Adds to each of eight rows of `sum` the eight rows of `from` times a share: `share` holds eight
 * doubles a row, `place` the eight rows' distances from the first, bytes. Rows are `width` bytes
 * wide, in whole pairs.
 */
export const addElement: WasmFunction = wasmFunction(
  "addElement",
  {
    given: { sum: "i32", from: "i32", place: "i32", share: "i32", width: "i32" },
    locals: {
      ...{ to: "i32", along: "i32", n: "i32", at: "i32" },
      ...named("row", "i32"),
      ...named("both", "v128"),
    },
  },
  (v) => {
    const { get } = c;
    const own = (letter: string, n: number) =>
      (v as unknown as Readonly<Record<string, number>>)[`${letter}${n}`]!;
    const term = (n: number) =>
      c.v2Mul(get(own("both", n)), c.v2Load(c.plus(get(own("row", n)), get(v.along))));
    const four = (n: number) =>
      c.v2Add(c.v2Add(term(n), term(n + 1)), c.v2Add(term(n + 2), term(n + 3)));
    const share = (n: number) => c.v2LoadBoth(c.plus(get(v.share), c.i32(8 * n)));
    return [
      NODES.map((n) =>
        c.set(own("row", n), c.plus(get(v.from), c.i32Load(c.plus(get(v.place), c.i32(4 * n))))),
      ),
      c.during(c.isBelow(get(v.n), c.i32(NODES.length)), [
        NODES.map((n) => c.set(own("both", n), share(n))),
        c.set(v.to, c.plus(get(v.sum), c.i32Load(get(v.place)))),
        c.set(v.along, c.i32(0)),
        c.during(c.isBelow(get(v.along), get(v.width)), [
          c.set(v.at, c.plus(get(v.to), get(v.along))),
          c.v2Store(get(v.at), c.v2Add(c.v2Add(c.v2Load(get(v.at)), four(0)), four(4))),
          c.advance(v.along, c.i32(16)),
        ]),
        c.advance(v.place, c.i32(4)),
        c.advance(v.share, c.i32(64)),
        c.advance(v.n, c.i32(1)),
      ]),
    ];
  },
);
