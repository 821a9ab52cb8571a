import { describe, expect, it } from "vitest";
import { recordColumns } from "../../../lib/step/data-frame/record-columns.js";

const columns = (...records: readonly object[]) => Object.fromEntries(recordColumns(records));
const slice = (top_m: number, median: number) => ({
  ...{ top_m, base_m: top_m + 0.5, median, p10: median - 1, p90: median + 1 },
});

describe("recordColumns", () => {
  it("keeps numbers, texts and flags; null and what is left out are NaN", () => {
    expect(columns({ a: 1, b: "x", c: true }, { a: null, c: undefined, d: "y" })).toEqual({
      ...{ a: [1, Number.NaN], b: ["x", Number.NaN], c: [true, Number.NaN], d: [Number.NaN, "y"] },
    });
  });

  it("has a column for each slice and number, the median without a tag", () => {
    const rows = columns({ r_ohm_m: [slice(0, 20), slice(0.5, 40)] }, { r_ohm_m: [slice(0, 30)] });
    expect(rows).toMatchObject({
      "r_0.0-0.5_ohm_m": [20, 30],
      "r_0.0-0.5_p10_ohm_m": [19, 29],
      "r_0.5-1.0_ohm_m": [40, Number.NaN],
      "r_0.5-1.0_p90_ohm_m": [41, Number.NaN],
    });
    expect(Object.keys(rows)).toHaveLength(6);
  });

  it("has a column for each member of an object, where it is null too", () => {
    expect(columns({ exit: null }, { exit: { p10: 1, p50: 2 } })).toEqual({
      ...{ exit_p10: [Number.NaN, 1], exit_p50: [Number.NaN, 2] },
    });
  });

  it("has columns for records with a name", () => {
    const evidence = [
      { name: "structure", weight: 0.8, statement: "A culvert." },
      { name: "thin blanket", weight: 0.1, value: null },
    ];
    expect(columns({ evidence })).toEqual({
      ...{ evidence_structure_weight: [0.8], evidence_structure_statement: ["A culvert."] },
      "evidence_thin blanket_weight": [0.1],
    });
  });

  it("parts intervals, also within slices, and no list that only happens to have two numbers", () => {
    const bySlice = [{ top_m: 0, base_m: 1, interval: [0.5, 0.7] }];
    expect(columns({ ends_m: [1, 2], at_m: [1, 2], bySlice }, { at_m: [1, 2, 3] })).toEqual({
      ...{ ends_low_m: [1, Number.NaN], ends_high_m: [2, Number.NaN] },
      at_m: ["1, 2", "1, 2, 3"],
      ...{ "bySlice_0.0-1.0_interval_low": [0.5, Number.NaN] },
      ...{ "bySlice_0.0-1.0_interval_high": [0.7, Number.NaN] },
    });
  });

  it("writes any other list in one cell", () => {
    expect(columns({ a: ["x", "y"], b: [], c: new Float64Array([1, 2]), d: [{ z: 1 }] })).toEqual({
      ...{ a: ["x, y"], b: [""], c: ["1, 2"], d: ['{"z":1}'] },
    });
  });
});
