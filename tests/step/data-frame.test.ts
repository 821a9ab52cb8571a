import { describe, expect, it } from "vitest";
import { toDataFrame } from "../../lib/step/data-frame.js";

const blocks = [
  { id: "B1", from_m: 0, class: "A", interval: [0, 0] },
  { id: "B2", from_m: 340, class: "B", interval: [338, 342] },
  { id: "B3", from_m: 800, class: "A" },
];

describe("toDataFrame", () => {
  it("keeps rows, columns and their order; nested values as JSON, missing ones as NaN", async () => {
    const frame = await toDataFrame(blocks);
    expect(frame.columns).toEqual(["id", "from_m", "class", "interval"]);
    expect(frame.values).toEqual([
      ["B1", 0, "A", "[0,0]"],
      ["B2", 340, "B", "[338,342]"],
      ["B3", 800, "A", Number.NaN],
    ]);
  });

  it("takes a result's table and answers to data-frame methods", async () => {
    const table = { id: "t", caption: "", columns: [], rows: blocks };
    const frame = await toDataFrame(table);
    expect(frame.column("from_m").max()).toBe(800);
    expect(frame.query(frame.column("from_m").gt(100)).shape).toEqual([2, 4]);
  });

  it("refuses no rows", async () => {
    await expect(toDataFrame([])).rejects.toThrow("at least one row");
  });
});
