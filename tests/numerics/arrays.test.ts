import { describe, expect, it } from "vitest";
import {
  entryOf,
  firstOf,
  groupedBy,
  itemAt,
  lastOf,
  neighbours,
  valueAt,
  zipped,
} from "../../lib/numerics/arrays.js";

describe("items of lists", () => {
  it("give what is there, and say which index is not", () => {
    expect([firstOf([3, 4, 5]), itemAt([3, 4, 5], 1), lastOf([3, 4, 5])]).toEqual([3, 4, 5]);
    expect(() => itemAt([3], 1)).toThrow(new RangeError("index 1 lies outside a list of 1"));
    expect(() => lastOf([])).toThrow(RangeError);
    expect(itemAt([0, null, ""], 1)).toBeNull();
  });

  it("are missing beyond the ends of a column", () => {
    const column = Float64Array.of(1, 2);
    expect([valueAt(column, -1), valueAt(column, 1), valueAt(column, 2)]).toEqual([NaN, 2, NaN]);
  });

  it("stand beside each other", () => {
    expect(neighbours([1, 2, 4])).toEqual([
      [1, 2],
      [2, 4],
    ]);
    expect(neighbours([1])).toEqual([]);
    expect(zipped(["a", "b"], [1, 2])).toEqual([
      ["a", 1],
      ["b", 2],
    ]);
    expect(() => zipped(["a"], [])).toThrow(RangeError);
  });

  it("are found by key, or the key is named", () => {
    expect(entryOf(new Map([["a", 0]]), "a")).toBe(0);
    expect(() => entryOf(new Map<string, number>(), "a")).toThrow("no entry for a");
  });

  it("are grouped by key, keys and items in order of appearance", () => {
    const groups = groupedBy([3, 4, 5, 6, 8], (one) => one % 3);
    expect([...groups]).toEqual([
      [0, [3, 6]],
      [1, [4]],
      [2, [5, 8]],
    ]);
    expect(groupedBy([], String).size).toBe(0);
  });
});
