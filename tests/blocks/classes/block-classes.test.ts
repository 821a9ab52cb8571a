import { describe, expect, it } from "vitest";
import { blockClasses } from "../../../lib/blocks/classes/block-classes.js";

const even = (levels: readonly (readonly number[])[], variance = 1e-6) =>
  levels.map((level) => ({ level, variance: level.map(() => variance) }));

describe("blockClasses", () => {
  const blocks = even([[2], [1], [1.5], [1.01]]);

  it("letters classes from conductive to resistive", () => {
    const found = blockClasses(blocks, { classDistance: 0.12, effectiveColumns: 1 });
    expect(found.map(({ letter }) => letter)).toEqual(["C", "A", "B", "A"]);
  });

  it("gives every block its own at a distance of 0, and all one at a great one", () => {
    const none = blockClasses(blocks, { classDistance: 0, effectiveColumns: 1 });
    expect(none.map(({ letter }) => letter)).toEqual(["D", "A", "C", "B"]);
    const all = blockClasses(blocks, { classDistance: 10, effectiveColumns: 1 });
    expect(all.map(({ letter }) => letter)).toEqual(["A", "A", "A", "A"]);
  });

  // The meaning of the option: among nine blocks of three, the extra block joins or parts near it.
  it("joins blocks clearly nearer than the distance and parts those clearly beyond", () => {
    const around = [1, 1, 1.5, 1.5, 2, 2, 2.5, 2.5];
    const lettersAt = (off: number) => {
      const level = [...around, 3, 3 + off].map((value) => [value, value]);
      const found = blockClasses(even(level), { classDistance: 0.12, effectiveColumns: 2 });
      return new Set(found.map(({ letter }) => letter)).size;
    };
    expect(lettersAt(0.08)).toBe(5);
    expect(lettersAt(0.18)).toBe(6);
  });
});
