import * as c from "../code.js";
import { type ValueType, type WasmFunction, wasmFunction } from "../module-bytes.js";

/** How many rows are added at once. */
const ROWS = Array.from({ length: 8 }, (_, n) => n);

function named(letter: string, type: ValueType): Readonly<Record<string, ValueType>> {
  return Object.fromEntries(ROWS.map((n) => [`${letter}${n}`, type]));
}

/** Adds Σ share × row over eight rows to one of `width` bytes, in whole pairs. */
export const addEight: WasmFunction = wasmFunction(
  "addEight",
  {
    given: { sum: "i32", width: "i32", ...named("row", "i32"), ...named("share", "f64") },
    locals: { stop: "i32", ...named("both", "v128") },
  },
  (v) => {
    const at = v as unknown as Readonly<Record<string, number>>;
    const own = (letter: string, n: number) => at[`${letter}${n}`]!;
    const term = (n: number) => c.v2Mul(c.get(own("both", n)), c.v2Load(c.get(own("row", n))));
    const four = (n: number) =>
      c.v2Add(c.v2Add(term(n), term(n + 1)), c.v2Add(term(n + 2), term(n + 3)));
    const sum = c.get(v.sum);
    return [
      ROWS.map((n) => c.set(own("both", n), c.v2Both(c.get(own("share", n))))),
      c.set(v.stop, c.plus(sum, c.get(v.width))),
      c.during(c.isBelow(sum, c.get(v.stop)), [
        c.v2Store(sum, c.v2Add(c.v2Add(c.v2Load(sum), four(0)), four(4))),
        ROWS.map((n) => c.advance(own("row", n), c.i32(16))),
        c.advance(v.sum, c.i32(16)),
      ]),
    ];
  },
);
