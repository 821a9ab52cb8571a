import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";

const PAIR = 16;
const DOUBLE = 8;
/** Rows that are worked out side by side. */
const ROWS = [0, 1, 2, 3] as const;

/** Place of this function among those of `bandFunctions`. */
const FINISH = 0;
const ENTRIES = 1;
const PIVOT = 2;

/** A running sum of products, even and odd places apart, taken on over n more pairs of doubles. */
const finish = wasmFunction(
  "finish",
  {
    given: { sums: "v128", p: "i32", q: "i32", n: "i32" },
    locals: { stop: "i32", even: "f64" },
    gives: "f64",
  },
  (v) => [
    c.set(v.stop, c.plus(c.get(v.p), c.times(c.bitsOf(c.get(v.n), c.i32(-2)), c.i32(DOUBLE)))),
    c.during(c.isBelow(c.get(v.p), c.get(v.stop)), [
      c.set(v.sums, added(v.sums, v.p, v.q)),
      c.advance(v.p, c.i32(PAIR)),
      c.advance(v.q, c.i32(PAIR)),
    ]),
    c.set(v.even, c.v2Lane(c.get(v.sums), 0)),
    c.when(c.bitsOf(c.get(v.n), c.i32(1)), [
      c.set(
        v.even,
        c.f64Add(c.get(v.even), c.f64Mul(c.f64Load(c.get(v.p)), c.f64Load(c.get(v.q)))),
      ),
    ]),
    c.f64Add(c.get(v.even), c.v2Lane(c.get(v.sums), 1)),
  ],
);

function added(sums: number, p: number, q: number): c.Code {
  return c.v2Add(c.get(sums), c.v2Mul(c.v2Load(c.get(p)), c.v2Load(c.get(q))));
}

/** Where entry (i, j) lies, `wide` being the bytes of a row less one entry. */
function entry(i: number, j: number, { wide, origin }: { wide: number; origin: number }): c.Code {
  const along = c.times(c.get(j), c.i32(DOUBLE));
  return c.plus(c.plus(c.get(origin), c.times(c.get(i), c.get(wide))), along);
}

const bandOf = { given: { origin: "i32", wide: "i32" } } as const;

/** Entries j … to of row i, whose own first entry is `first`. */
const entries = wasmFunction(
  "entries",
  {
    given: { ...bandOf.given, i: "i32", first: "i32", j: "i32", to: "i32" },
    locals: { zero: "v128", own: "i32", start: "i32" },
  },
  (v) => [
    c.set(v.start, entry(v.i, v.first, v)),
    c.during(c.isBelow(c.get(v.j), c.get(v.to)), [
      c.set(v.own, entry(v.i, v.j, v)),
      quotient(v.own, entry(v.j, v.j, v), [
        c.get(v.zero),
        c.get(v.start),
        entry(v.j, v.first, v),
        c.minus(c.get(v.j), c.get(v.first)),
      ]),
      c.advance(v.j, c.i32(1)),
    ]),
  ],
);

/** What lies at `own` less the sum that `rest` finishes, over the pivot. */
function quotient(own: number, pivot: c.Code, rest: readonly c.Code[]): c.Code {
  const left = c.f64Sub(c.f64Load(c.get(own)), c.call(FINISH, ...rest));
  return c.f64Store(c.get(own), c.f64Div(left, c.f64Load(pivot)));
}

/** The root of row i's pivot in its place; 0 where it is not positive. */
const pivot = wasmFunction(
  "pivot",
  {
    given: { ...bandOf.given, i: "i32", first: "i32" },
    locals: { zero: "v128", own: "i32", value: "f64" },
    gives: "i32",
  },
  (v) => {
    const start = entry(v.i, v.first, v);
    const n = c.minus(c.get(v.i), c.get(v.first));
    const squares = c.call(FINISH, c.get(v.zero), start, start, n);
    return [
      c.set(v.own, entry(v.i, v.i, v)),
      c.set(v.value, c.f64Sub(c.f64Load(c.get(v.own)), squares)),
      c.when(c.not(c.f64IsAbove(c.get(v.value), c.f64Zero)), c.back(c.i32(0))),
      c.f64Store(c.get(v.own), c.f64Sqrt(c.get(v.value))),
      c.i32(1),
    ];
  },
);

/**
 * Factors a band matrix in place, its lower band at `lower`; gives the first row without a positive
 * pivot, −1 where there is none. Rows i … i + 3 meet every row before them side by side.
 */
const factorBand = wasmFunction(
  "factorBand",
  {
    given: { lower: "i32", size: "i32", b: "i32" },
    locals: {
      ...{ origin: "i32", wide: "i32", i: "i32", j: "i32", row: "i32", first: "i32" },
      ...{ start: "i32", n: "i32", left: "i32", own: "i32", q: "i32", zero: "v128" },
      ...{ p0: "i32", p1: "i32", p2: "i32", p3: "i32" },
      ...{ q0: "i32", q1: "i32", q2: "i32", q3: "i32" },
      ...{ sum0: "v128", sum1: "v128", sum2: "v128", sum3: "v128" },
    },
    gives: "i32",
  },
  (v) => {
    const [p, q] = [
      [v.p0, v.p1, v.p2, v.p3],
      [v.q0, v.q1, v.q2, v.q3],
    ];
    const sums = [v.sum0, v.sum1, v.sum2, v.sum3];
    const get = c.get;
    const own = [get(v.origin), get(v.wide)];
    /** Row i + r's entries from its first to one and its pivot. */
    const ending = (r: number, from: c.Code): c.Code => [
      c.set(v.row, c.plus(get(v.i), c.i32(r))),
      c.set(v.first, c.minus(get(v.row), get(v.b))),
      c.when(c.isBelow(get(v.first), c.i32(0)), c.set(v.first, c.i32(0))),
      c.call(ENTRIES, ...own, get(v.row), get(v.first), from, get(v.row)),
      c.when(c.not(c.call(PIVOT, ...own, get(v.row), get(v.first))), c.back(get(v.row))),
    ];
    const leading = (r: number): c.Code => [
      c.set(v.row, c.plus(get(v.i), c.i32(r))),
      c.set(v.first, c.minus(get(v.row), get(v.b))),
      c.call(ENTRIES, ...own, get(v.row), get(v.first), get(v.first), get(v.start)),
    ];
    const begin = (r: number): c.Code => [
      c.set(v.row, c.plus(get(v.i), c.i32(r))),
      c.set(v.first, c.minus(get(v.row), get(v.b))),
      c.set(p[r]!, entry(v.row, v.first, v)),
      c.set(q[r]!, entry(v.j, v.first, v)),
      c.set(sums[r]!, get(v.zero)),
    ];
    const end = (r: number): c.Code => [
      c.set(v.row, c.plus(get(v.i), c.i32(r))),
      c.set(v.own, entry(v.row, v.j, v)),
      quotient(v.own, entry(v.j, v.j, v), [
        get(sums[r]!),
        get(p[r]!),
        get(q[r]!),
        c.plus(get(v.left), c.i32(3 - r)),
      ]),
    ];
    const together: c.Code = [
      ROWS.map(begin),
      c.set(v.n, c.bitsOf(c.minus(get(v.j), get(v.start)), c.i32(-2))),
      c.set(v.left, c.bitsOf(c.minus(get(v.j), get(v.start)), c.i32(1))),
      c.during(get(v.n), [
        ROWS.map((r) => c.set(sums[r]!, added(sums[r]!, p[r]!, q[r]!))),
        [...p, ...q].map((at) => c.advance(at, c.i32(PAIR))),
        c.advance(v.n, c.i32(-2)),
      ]),
      ROWS.map(end),
    ];
    const fourRows: c.Code = [
      c.set(v.start, c.minus(c.plus(get(v.i), c.i32(3)), get(v.b))),
      ROWS.map(leading),
      c.set(v.j, get(v.start)),
      c.during(c.isBelow(get(v.j), get(v.i)), [together, c.advance(v.j, c.i32(1))]),
      ROWS.map((r) => ending(r, get(v.i))),
      c.advance(v.i, c.i32(4)),
    ];
    const isWide = c.isAtLeast(get(v.b), c.i32(8));
    const isWithin = c.isBelow(c.plus(get(v.i), c.i32(3)), get(v.size));
    const isFull = c.isAtLeast(get(v.i), get(v.b));
    return [
      c.set(v.wide, c.times(get(v.b), c.i32(DOUBLE))),
      c.set(v.origin, c.plus(get(v.lower), get(v.wide))),
      c.during(c.isBelow(get(v.i), get(v.size)), [
        c.during(c.bitsOf(c.bitsOf(isWide, isWithin), isFull), fourRows),
        c.when(c.isBelow(get(v.i), get(v.size)), [
          c.set(v.first, c.minus(get(v.i), get(v.b))),
          c.when(c.isBelow(get(v.first), c.i32(0)), c.set(v.first, c.i32(0))),
          ending(0, get(v.first)),
          c.advance(v.i, c.i32(1)),
        ]),
      ]),
      c.i32(-1),
    ];
  },
);

/** In this order: they call each other by place, from the first function of a module. */
export const bandFunctions: readonly WasmFunction[] = [finish, entries, pivot, factorBand];
