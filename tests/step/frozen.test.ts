import { describe, expect, it } from "vitest";
import { frozen } from "../../lib/step/frozen.js";

describe("frozen", () => {
  it("gives plain values back and freezes what they hold, to the last", () => {
    const value = { a: { b: [{ c: 1 }] }, d: null, e: 3 };
    expect(frozen(value)).toBe(value);
    expect([value, value.a, value.a.b, value.a.b[0]].every(Object.isFrozen)).toBe(true);
    expect([frozen(3), frozen(null), frozen("a")]).toEqual([3, null, "a"]);
  });
});
