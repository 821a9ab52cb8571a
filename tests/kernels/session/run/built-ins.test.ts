import { afterEach, describe, expect, it } from "vitest";
import { BuiltInReplaced, keepBuiltIns } from "../../../../kernels/session/run/built-ins.js";

const putBack = keepBuiltIns();
afterEach(() => void putBack());

/** Does something to the built-ins, and reads what was put back before anything else needs them. */
function changedBy(change: () => void): readonly string[] {
  change();
  return putBack();
}

describe("built-ins that a cell changes", () => {
  it("are put back, and named", () => {
    const { map } = Array.prototype;
    const names = changedBy(() => {
      Array.prototype.map = () => {
        throw new Error("replaced");
      };
      Reflect.deleteProperty(Map.prototype, "get");
      Object.assign(globalThis, { JSON: null });
    });
    expect(names).toEqual(["JSON", "Array.prototype.map", "Map.prototype.get"]);
    expect(Array.prototype.map).toBe(map);
    expect(JSON.stringify([new Map([[1, 2]]).get(1)])).toBe("[2]");
    expect(putBack()).toEqual([]);
  });

  it("are put back where functions that do so are replaced themselves", () => {
    const names = changedBy(() => {
      Object.assign(Reflect, { defineProperty: () => false, ownKeys: () => [] });
      Object.assign(Array.prototype, { push: null, [Symbol.iterator]: null });
    });
    expect(names).toContain("Array.prototype[Symbol(Symbol.iterator)]");
    expect([...[1, 2]]).toEqual([1, 2]);
  });

  it("lose what was added to every object", () => {
    const names = changedBy(() => Object.assign(Object.prototype, { get: 1 }));
    expect(names).toEqual(["Object.prototype.get"]);
    expect("get" in {}).toBe(false);
  });

  it("keep what was added elsewhere, and what a cell may want otherwise", () => {
    const { random } = Math;
    const names = changedBy(() => {
      Object.assign(Array.prototype, { sum: () => 0 });
      Math.random = () => 0.5;
    });
    expect(names).toEqual([]);
    expect(Math.random()).toBe(0.5);
    Math.random = random;
    Reflect.deleteProperty(Array.prototype, "sum");
  });

  it("read as what was done and undone", () => {
    expect(new BuiltInReplaced(["JSON"]).message).toBe(
      "JSON was changed, on which the kernel stands; it is put back",
    );
  });
});
