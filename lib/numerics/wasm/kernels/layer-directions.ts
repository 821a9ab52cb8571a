import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";

/**
 * Adds each layer's single-precision row times `blockSd` to the row of its block, and writes it
 * times `sd` to a row of its own, unless `own` is 0. Rows given lie `given` bytes apart, those
 * written `row`, in whole pairs of doubles; blocks are bytes.
 */
export const layerDirections: WasmFunction = wasmFunction(
  "layerDirections",
  {
    given: {
      ...{ from: "i32", given: "i32", layers: "i32", block: "i32" },
      ...{ blocks: "i32", own: "i32", row: "i32", blockSd: "f64", sd: "f64" },
    },
    locals: { along: "i32", to: "i32", read: "i32", both: "v128", single: "v128", one: "v128" },
  },
  (v) => {
    const { get } = c;
    const to = c.plus(get(v.to), get(v.along));
    return [
      c.set(v.both, c.v2Both(get(v.blockSd))),
      c.set(v.single, c.v2Both(get(v.sd))),
      c.during(c.isBelow(c.i32(0), get(v.layers)), [
        c.set(v.to, c.plus(get(v.blocks), c.times(c.i32LoadByte(get(v.block)), get(v.row)))),
        c.set(v.read, get(v.from)),
        c.set(v.along, c.i32(0)),
        c.during(c.isBelow(get(v.along), get(v.row)), [
          c.set(v.one, c.v2FromSingles(get(v.read))),
          c.v2Store(to, c.v2Add(c.v2Load(to), c.v2Mul(get(v.both), get(v.one)))),
          c.when(
            get(v.own),
            c.v2Store(c.plus(get(v.own), get(v.along)), c.v2Mul(get(v.single), get(v.one))),
          ),
          c.advance(v.read, c.i32(8)),
          c.advance(v.along, c.i32(16)),
        ]),
        c.when(get(v.own), c.advance(v.own, get(v.row))),
        c.advance(v.from, get(v.given)),
        c.advance(v.block, c.i32(1)),
        c.advance(v.layers, c.i32(-1)),
      ]),
    ];
  },
);
