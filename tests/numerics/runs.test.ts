import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { runsWhere } from "../../lib/numerics/runs.js";

describe("runsWhere", () => {
  it("gives the runs with their first and last row", () => {
    const values = Float64Array.of(Number.NaN, Number.NaN, 1, Number.NaN, 2, 3, Number.NaN);
    expect(runsWhere(values, Number.isNaN)).toEqual([
      { first: 0, last: 1 },
      { first: 3, last: 3 },
      { first: 6, last: 6 },
    ]);
    expect(runsWhere(values, () => false)).toEqual([]);
    expect(runsWhere(values, () => true)).toEqual([{ first: 0, last: 6 }]);
  });

  it("holds every row that passes, once, and never two runs side by side", () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(0, 1)), (flags) => {
        const runs = runsWhere(Float64Array.from(flags), (value) => value === 1);
        const rows = runs.flatMap(({ first, last }) =>
          Array.from({ length: last - first + 1 }, (_, k) => first + k),
        );
        expect(rows).toEqual([...flags.keys()].filter((row) => flags[row] === 1));
        for (const { last } of runs) expect(flags[last + 1]).not.toBe(1);
      }),
      { seed: 2031 },
    );
  });
});
