import * as c from "../code.js";
import { type WasmFunction, wasmFunction } from "../module-bytes.js";

/** Readings that are scored side by side, in pairs. */
export const TOGETHER = 16;
const PAIRS = Array.from({ length: TOGETHER / 2 }, (_, pair) => pair);
const ROW = 8 * TOGETHER;

const named = (letter: string) =>
  Object.fromEntries(PAIRS.map((pair) => [`${letter}${pair}`, "v128" as const]));

const numbers = <Name extends string>(...names: readonly Name[]) =>
  Object.fromEntries(names.map((name) => [name, "i32"])) as Readonly<Record<Name, "i32">>;

const given = numbers(
  ...(["score", "constant", "value", "inverse", "count", "r", "own", "left", "least"] as const),
);
const locals = {
  ...numbers("i", "at", "from", "stop", "entry", "next"),
  one: "v128",
  any: "v128",
  half: "v128",
} as const;
type Variables = Readonly<Record<keyof typeof given | keyof typeof locals, number>>;

const { get } = c;
const each = (made: (pair: number) => c.Code): c.Code => PAIRS.map(made);

/** The pairs' sums over a row of L⁻¹, and their scores. */
function pairsOf(v: Variables) {
  const at = v as unknown as Readonly<Record<string, number>>;
  const [sum, total] = ["sum", "total"].map((name) => (pair: number) => at[`${name}${pair}`]!);
  return { sum: sum!, total: total! };
}

/** Row i: what is left of the readings, its sum with L⁻¹'s row, and the square off the scores. */
function oneRow(v: Variables): c.Code {
  const { sum, total } = pairsOf(v);
  const here = (pair: number) => c.v2Load(get(v.at), 16 * pair);
  const less = (pair: number) => {
    const square = c.v2Mul(c.v2Mul(get(v.half), get(sum(pair))), get(sum(pair)));
    return c.set(total(pair), c.v2Sub(get(total(pair)), square));
  };
  const left = (pair: number) => c.v2Sub(c.v2Load(get(v.from), 16 * pair), get(v.one));
  const added = (pair: number) => c.v2Add(get(sum(pair)), c.v2Mul(get(v.one), here(pair)));
  return [
    c.set(v.one, c.v2FromSingle(get(v.value))),
    each((pair) => c.v2Store(get(v.at), left(pair), 16 * pair)),
    // The diagonal's term comes first.
    c.set(v.one, c.v2FromSingle(c.plus(get(v.entry), c.times(get(v.i), c.i32(4))))),
    each((pair) => c.set(sum(pair), c.v2Mul(get(v.one), here(pair)))),
    c.set(v.stop, get(v.at)),
    c.set(v.at, get(v.left)),
    c.during(c.isBelow(get(v.at), get(v.stop)), [
      c.set(v.one, c.v2FromSingle(get(v.entry))),
      each((pair) => c.set(sum(pair), added(pair))),
      c.advance(v.entry, c.i32(4)),
      c.advance(v.at, c.i32(ROW)),
    ]),
    each(less),
  ];
}

/** The member is given up where no score reaches the least. */
function goOn(v: Variables): c.Code {
  const { total } = pairsOf(v);
  const reaches = (pair: number) =>
    c.v2IsAtLeast(get(total(pair)), c.v2Load(get(v.least), 16 * pair));
  return [
    c.set(v.any, reaches(0)),
    PAIRS.slice(1).map((pair) => c.set(v.any, c.v128Or(get(v.any), reaches(pair)))),
    c.advance(v.at, c.i32(ROW)),
    c.advance(v.from, c.i32(ROW)),
    c.advance(v.value, c.i32(4)),
    c.advance(v.entry, c.i32(4)),
    c.advance(v.i, c.i32(1)),
    c.when(c.not(c.v128Any(get(v.any))), c.set(v.i, get(v.r))),
  ];
}

/**
 * Scores of `count` members for 16 readings: constant − ½ |L⁻¹ (own − value)|², with r values and
 * the r (r + 1) / 2 entries of L⁻¹ as single-precision numbers, row by row. Rows of 16: `own` (r),
 * `left` (r, overwritten), `least` (one), `score` (one a member). A member is given up once none of
 * its scores reaches the least: what then stands there is below it.
 */
export const scoreMembers: WasmFunction = wasmFunction(
  "scoreMembers",
  { given, locals: { ...locals, ...named("sum"), ...named("total") } },
  (v) => {
    const { total } = pairsOf(v);
    return [
      c.set(v.half, c.v2Both(c.f64Half)),
      c.during(c.isBelow(c.i32(0), get(v.count)), [
        each((pair) => c.set(total(pair), c.v2LoadBoth(get(v.constant)))),
        c.set(v.i, c.i32(0)),
        c.set(v.at, get(v.left)),
        c.set(v.from, get(v.own)),
        c.set(v.entry, get(v.inverse)),
        c.set(v.next, c.plus(get(v.value), c.times(get(v.r), c.i32(4)))),
        c.during(c.isBelow(get(v.i), get(v.r)), [oneRow(v), goOn(v)]),
        each((pair) => c.v2Store(get(v.score), get(total(pair)), 16 * pair)),
        c.set(v.value, get(v.next)),
        // r (r + 1) / 2 entries of four bytes.
        c.advance(v.inverse, c.times(c.times(get(v.r), c.plus(get(v.r), c.i32(1))), c.i32(2))),
        c.advance(v.constant, c.i32(8)),
        c.advance(v.score, c.i32(ROW)),
        c.advance(v.count, c.i32(-1)),
      ]),
    ];
  },
);
