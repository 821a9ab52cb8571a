import { expect, it } from "vitest";
import { columnName, isSlice, sliceTag } from "../../../lib/step/data-frame/column-name.js";

it.each([
  ["ratio", ["low"], "ratio_low"],
  ["interval_m", ["low"], "interval_low_m"],
  ["resistivity_ohm_m", ["0.0-0.5", "p10"], "resistivity_0.0-0.5_p10_ohm_m"],
  ["resistivity_ohm_m", [], "resistivity_ohm_m"],
  ["_own", ["a"], "_own_a"],
])("of %s with %j is %s", (field, tags, name) => {
  expect(columnName(field, tags)).toBe(name);
});

it.each([
  [0, 0.5, "0.0-0.5"],
  [0.25, 1, "0.25-1.0"],
  [0.1 + 0.2, 12, "0.3-12.0"],
  [4, Number.POSITIVE_INFINITY, "4.0-Infinity"],
])("names the slice from %d to %d m %s", (top_m, base_m, tag) => {
  expect(sliceTag({ top_m, base_m })).toBe(tag);
});

it("holds for a slice what has a top and a base", () => {
  expect([{ top_m: 0, base_m: 1, median: 3 }, { top_m: 0 }, null, 3].map(isSlice)).toEqual([
    ...[true, false, false, false],
  ]);
});
