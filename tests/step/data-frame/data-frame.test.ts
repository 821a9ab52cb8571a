import { describe, expect, it } from "vitest";
import { toDataFrame } from "../../../lib/step/data-frame/data-frame.js";
import { StepResult } from "../../../lib/step/step-result.js";

interface Stretch {
  readonly id: string;
  readonly from_m: number;
  readonly interval_m: readonly [number, number];
  readonly note?: string;
}

const stretches: readonly Stretch[] = [
  { id: "B1", from_m: 0, interval_m: [0, 0] },
  { id: "B2", from_m: 340, interval_m: [338, 342], note: "sandy" },
  { id: "B3", from_m: 800, interval_m: [790, 805] },
];

const along = {
  campaign: "2031-10",
  chainage_m: new Float64Array([0, 5]),
  slices: [{ top_m: 0, base_m: 0.5 }],
  sd: [new Float64Array([0.1, 0.2])],
};

const resultOf = <Value>(value: Value) =>
  new StepResult({
    ...{ step: "walk", summary: "", value, used: {}, basis: [], cautions: [] },
    ...{ accounting: null, figures: [], tables: [] },
  });

describe("toDataFrame", () => {
  it("takes records as their interface declares them; what one lacks is NaN", async () => {
    const frame = await toDataFrame(stretches);
    expect(frame.columns).toEqual(["id", "from_m", "interval_low_m", "interval_high_m", "note"]);
    expect(frame.values).toEqual([
      ["B1", 0, 0, 0, Number.NaN],
      ["B2", 340, 338, 342, "sandy"],
      ["B3", 800, 790, 805, Number.NaN],
    ]);
  });

  it("takes a table of a result, and results for their values", async () => {
    const table = { id: "t", caption: "", columns: [], rows: stretches };
    expect((await toDataFrame(table)).shape).toEqual([3, 5]);
    expect((await toDataFrame(resultOf(stretches))).shape).toEqual([3, 5]);
    expect((await toDataFrame(resultOf(along))).columns).toEqual(["chainage_m", "sd_0.0-0.5"]);
  });

  it("answers to data-frame methods", async () => {
    const frame = await toDataFrame(stretches);
    expect(frame.column("from_m").max()).toBe(800);
    const far = frame.query(frame.column("from_m").gt(100));
    expect(far.column("id").values).toEqual(["B2", "B3"]);
    expect(far.query(far.column("from_m").gt(500)).index).toEqual([800]);
    expect(frame.loc({ rows: [340] }).column("id").values).toEqual(["B2"]);
  });

  it.each([
    ["chainage_m before from_m", [{ from_m: 1, chainage_m: 7 }], [7]],
    ["from_m", [{ from_m: 3 }, { from_m: 1 }], [3, 1]],
    ["a count where from_m is not unique", [{ from_m: 3 }, { from_m: 3 }], [0, 1]],
    ["a count where one is missing", [{ from_m: 3 }, { to_m: 3 }], [0, 1]],
    ["a count where one is no number", [{ from_m: Number.NaN }, { from_m: 3 }], [0, 1]],
    ["a count without either", [{ a: 1 }], [0]],
  ])("has for its index %s", async (_, records, index) => {
    expect((await toDataFrame(records)).index).toEqual(index);
  });

  it("refuses no rows", async () => {
    await expect(toDataFrame([])).rejects.toThrow(
      new RangeError("toDataFrame: rows must hold at least one row, got none"),
    );
    const none = { ...along, chainage_m: new Float64Array() };
    await expect(toDataFrame(none)).rejects.toThrow("at least one row");
    // @ts-expect-error a value without rows is none
    await expect(toDataFrame({ blocks: stretches })).rejects.toThrow();
  });
});
