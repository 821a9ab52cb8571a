import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";
import { bandFunctions } from "./factor-band.js";
import { PASS } from "./subtract-rows.js";

/** Place of `subtractRows` in the module, after the band's own functions. */
const SUBTRACT = bandFunctions.length;
/** Rows that a pass goes down before the next pass: what they need stays in the nearest cache. */
const BLOCK = 32;
const DOUBLE = 8;

const I32 = "i32" as const;
const given = { lower: I32, rows: I32, starts: I32, size: I32, b: I32, row: I32 };
const ofPass = { begin: I32, stop: I32, along: I32, panel: I32, start: I32 };
const locals = { ...ofPass, i: I32, first: I32, end: I32 };
type Places = { readonly [Name in keyof typeof given | keyof typeof locals]: number };

/** Where entry (i, j) of the factor lies. */
function entry(v: Places, i: c.Code, j: c.Code): c.Code {
  const rows = c.times(c.plus(i, c.i32(1)), c.get(v.b));
  return c.plus(c.get(v.lower), c.times(c.plus(rows, j), c.i32(DOUBLE)));
}

const rowAt = (v: Places, i: number) => c.plus(c.get(v.panel), c.times(c.get(i), c.get(v.row)));

/** One row of a pass: less coefficient × row over the rows first … end − 1, over the pivot. */
function settle(v: Places, coefficient: c.Code, stride: c.Code): c.Code {
  const sum = [rowAt(v, v.i), rowAt(v, v.first), rowAt(v, v.end), c.get(v.row)];
  const pivot = c.f64Load(entry(v, c.get(v.i), c.get(v.i)));
  return c.call(SUBTRACT, ...sum, c.i32(DOUBLE * PASS), coefficient, stride, pivot);
}

/** `block` for each pass of the right-hand sides. */
const eachPass = (v: Places, block: c.Code): c.Code => [
  c.set(v.along, c.i32(0)),
  c.during(c.isBelow(c.get(v.along), c.get(v.row)), [
    c.set(v.panel, c.plus(c.get(v.rows), c.get(v.along))),
    block,
    c.advance(v.along, c.i32(DOUBLE * PASS)),
  ]),
];

/**
 * L y = right in place, L the factor of a band matrix at `lower`. Right-hand sides lie side by side
 * at `rows`, `row` bytes to an unknown, in whole passes; `starts` holds for each the row above which
 * it is 0, rising.
 */
const solveBandLower = wasmFunction("solveBandLower", { given, locals }, (v) => {
  const { get } = c;
  return c.during(c.isBelow(get(v.begin), get(v.size)), [
    c.set(v.stop, c.plus(get(v.begin), c.i32(BLOCK))),
    c.when(c.isBelow(get(v.size), get(v.stop)), c.set(v.stop, get(v.size))),
    c.set(v.start, get(v.starts)),
    eachPass(v, [
      c.set(v.i, c.i32Load(get(v.start))),
      c.advance(v.start, c.i32(4 * PASS)),
      c.when(c.isBelow(get(v.i), get(v.begin)), c.set(v.i, get(v.begin))),
      c.during(c.isBelow(get(v.i), get(v.stop)), [
        c.set(v.first, c.minus(get(v.i), get(v.b))),
        c.when(c.isBelow(get(v.first), c.i32(0)), c.set(v.first, c.i32(0))),
        c.set(v.end, get(v.i)),
        settle(v, entry(v, get(v.i), get(v.first)), c.i32(DOUBLE)),
        c.advance(v.i, c.i32(1)),
      ]),
    ]),
    c.set(v.begin, get(v.stop)),
  ]);
});

/** Lᵀ x = y in place, the same way; `starts` is not looked at. */
const solveBandUpper = wasmFunction("solveBandUpper", { given, locals }, (v) => {
  const { get } = c;
  return [
    c.set(v.stop, get(v.size)),
    c.during(c.isBelow(c.i32(0), get(v.stop)), [
      c.set(v.begin, c.minus(get(v.stop), c.i32(BLOCK))),
      c.when(c.isBelow(get(v.begin), c.i32(0)), c.set(v.begin, c.i32(0))),
      eachPass(v, [
        c.set(v.i, c.minus(get(v.stop), c.i32(1))),
        c.during(c.isAtLeast(get(v.i), get(v.begin)), [
          c.set(v.first, c.plus(get(v.i), c.i32(1))),
          c.set(v.end, c.plus(get(v.first), get(v.b))),
          c.when(c.isBelow(get(v.size), get(v.end)), c.set(v.end, get(v.size))),
          settle(v, entry(v, get(v.first), get(v.i)), c.times(get(v.b), c.i32(DOUBLE))),
          c.advance(v.i, c.i32(-1)),
        ]),
      ]),
      c.set(v.stop, get(v.begin)),
    ]),
  ];
});

export const solvingFunctions: readonly WasmFunction[] = [solveBandLower, solveBandUpper];
