import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { setMethods } from "../../../../kernels/session/standard/set-methods.js";

type Name = keyof typeof setMethods;
const call = (name: Name, own: Set<unknown>, other: unknown) =>
  (setMethods[name] as (this: Set<unknown>, other: unknown) => unknown).call(own, other);

const members = fc.array(fc.oneof(fc.integer({ min: 0, max: 6 }), fc.constant(Number.NaN)));
const has = (values: readonly unknown[], value: unknown) => values.includes(value);

/** By lists, order of members included. */
const byLists: Readonly<Record<Name, (a: unknown[], b: unknown[]) => unknown>> = {
  union: (a, b) => [...a, ...b.filter((one) => !has(a, one))],
  // In the order of the smaller set.
  intersection: (a, b) =>
    a.length <= b.length ? a.filter((one) => has(b, one)) : b.filter((one) => has(a, one)),
  difference: (a, b) => a.filter((one) => !has(b, one)),
  symmetricDifference: (a, b) => [
    ...a.filter((one) => !has(b, one)),
    ...b.filter((one) => !has(a, one)),
  ],
  isSubsetOf: (a, b) => a.every((one) => has(b, one)),
  isSupersetOf: (a, b) => b.every((one) => has(a, one)),
  isDisjointFrom: (a, b) => a.every((one) => !has(b, one)),
};

describe("set methods", () => {
  it.each(Object.keys(byLists) as Name[])("%s gives what lists give, in their order", (name) => {
    fc.assert(
      fc.property(members, members, (first, second) => {
        const [a, b] = [new Set<unknown>(first), new Set<unknown>(second)];
        const made = call(name, a, b);
        const given = made instanceof Set ? [...made] : made;
        expect(given).toEqual(byLists[name]([...a], [...b]));
        expect([...a]).toEqual([...new Set(first)]);
      }),
      { seed: 20, numRuns: 200 },
    );
  });

  it("take what is like a set: a map's keys, an object with has, keys and size", () => {
    expect(call("union", new Set([1]), new Map([[2, "two"]]))).toEqual(new Set([1, 2]));
    const even = {
      size: Number.POSITIVE_INFINITY,
      has: (n: number) => n % 2 === 0,
      keys: () => [],
    };
    expect(call("intersection", new Set([1, 2, 3, 4]), even)).toEqual(new Set([2, 4]));
    expect(call("isSubsetOf", new Set([2, 4]), even)).toBe(true);
  });

  const like = { size: 1, has: () => true, keys: () => [1].values() };
  it.each([
    ["a list", [1], TypeError, "must be a number"],
    ["a number", 1, TypeError, "must be an object"],
    ["a size of NaN", { ...like, size: "many" }, TypeError, "must be a number"],
    ["a negative size", { ...like, size: -1 }, RangeError, "must not be negative"],
    ["no has", { ...like, has: null }, TypeError, "must have has()"],
    ["no keys", { ...like, keys: 3 }, TypeError, "must have keys()"],
  ])("refuse %s", (_, other, kind, text) => {
    for (const name of Object.keys(byLists) as Name[]) {
      const refused = () => call(name, new Set([1]), other);
      expect(refused).toThrow(kind);
      expect(refused).toThrow(text);
    }
  });

  it("refuse a receiver that is no set", () => {
    expect(() => call("union", [] as unknown as Set<unknown>, new Set())).toThrow(TypeError);
  });
});
