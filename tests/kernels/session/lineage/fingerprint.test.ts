import { describe, expect, it } from "vitest";
import { fingerprintOf, stepsForValue } from "../../../../kernels/session/lineage/fingerprint.js";

class Own {
  n = 1;
}
class Packages {
  cache = 1;
}
const options = { prototypes: new Set([Own.prototype]), most: stepsForValue };
const hashOf = (value: unknown) => fingerprintOf(value, options).hash;

/** A value, and a change of it that the hash must show. */
function changes(): Readonly<Record<string, () => { value: unknown; change: () => unknown }>> {
  const of = <Value>(value: Value, change: (value: Value) => unknown) => {
    return () => ({ value, change: () => change(value) });
  };
  return {
    "an element of a list": of([1, 2], (list) => list.fill(3, 1)),
    "the order of a list": of([1, 2], (list) => list.reverse()),
    "the length of a list": of([undefined], (list) => list.push(undefined)),
    "a list within a list": of([[1], [2]], (list) => list[1]?.push(3)),
    "the sign of zero": of([0], (list) => list.fill(-0)),
    "a value that is missing": of([1], (list) => list.fill(Number.NaN)),
    "a typed array": of(new Float64Array(3), (list) => list.fill(1e-300, 2)),
    "bytes that begin at an odd place": of(new Uint8Array(9).subarray(1), (list) =>
      list.fill(1, 3),
    ),
    "a property": of({ k: 1 }, (one) => Object.assign(one, { k: 2 })),
    "a property's name": of({ k: 1 } as Record<string, number>, (one) => {
      one.l = 1;
      delete one.k;
    }),
    "a text": of({ k: "clay" }, (one) => Object.assign(one, { k: "clax" })),
    "a number that becomes a text": of({ k: 1 } as object, (one) => Object.assign(one, { k: "1" })),
    "an entry of a map": of(new Map([[1, { k: 1 }]]), (map) =>
      Object.assign(map.get(1) ?? {}, { k: 2 }),
    ),
    "a member of a set": of(new Set([1]), (set) => set.add(2)),
    "a date": of(new Date(0), (date) => date.setTime(1)),
    "an instance of a class of cells": of(new Own(), (one) => Object.assign(one, { n: 2 })),
    "a matrix": of({ rows: 1, columns: 1, data: [new Float64Array(1)] }, ({ data }) =>
      data[0]?.fill(1),
    ),
    "the last of very many": of(new Array<number>(1e6).fill(0), (list) => list.fill(1, 999_999)),
    "all of very many": of(new Float64Array(1e6), (list) => list.fill(1)),
    "the length of very many": of(new Array<number>(1e6).fill(0), (list) => list.push(0)),
  };
}

describe("a fingerprint", () => {
  it.each(Object.entries(changes()))("changes with %s", (_, make) => {
    const { value, change } = make();
    const before = hashOf(value);
    expect(hashOf(value)).toBe(before);
    change();
    expect(hashOf(value)).not.toBe(before);
  });

  it("is the same for equal contents, and ends where a value holds itself", () => {
    const one = { list: [1, { k: "a" }], self: null as unknown };
    const other = structuredClone(one);
    one.self = one;
    other.self = other;
    expect(hashOf(one)).toBe(hashOf(other));
  });

  it("is the identity of what may change inside without being another value", () => {
    const held = new Packages();
    const before = fingerprintOf(held, options);
    held.cache = 2;
    expect(fingerprintOf(held, options)).toEqual(before);
    expect(before).toMatchObject({ isWhole: false, isObject: true });
    expect(hashOf(new Packages())).not.toBe(before.hash);
  });

  it("asks neither getters nor proxies", () => {
    const asked: string[] = [];
    const watching = new Proxy([1], { get: (_, key) => asked.push(String(key)) });
    const value = {
      get depth() {
        return asked.push("depth");
      },
      watching,
    };
    expect(fingerprintOf(value, options).isWhole).toBe(false);
    expect(asked).toEqual([]);
  });

  it("says where it is not of the whole, and takes no more steps for more", () => {
    const rows = Array.from({ length: 50_000 }, (_, at) => ({ at, name: `peg ${at}` }));
    for (const value of [rows, new Float64Array(5e6), "x".repeat(1e6), new Map(rows.entries())]) {
      const { isWhole, cost } = fingerprintOf(value, options);
      expect(isWhole).toBe(false);
      // A step more for what was begun when the last one was spent.
      expect(cost).toBeLessThan(stepsForValue * 1.01);
    }
    expect(fingerprintOf(new Float64Array(10_000), options).isWhole).toBe(true);
  });
});
