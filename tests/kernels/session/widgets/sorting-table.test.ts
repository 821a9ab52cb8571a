import { describe, expect, it } from "vitest";
import { frameOf } from "../../../../kernels/session/show/showing.js";
import { sorted } from "../../../../kernels/session/widgets/sorting-table.js";

const rows = [
  { name: "crest", x: 10 },
  { name: "toe", x: Number.NaN },
  { name: "berm", x: 9 },
  { name: "ditch", x: "low" },
  { name: "bank", x: 9 },
];
const order = (column: number, descends: boolean) =>
  (sorted(frameOf(rows), column, descends).values as unknown[][]).map(([name]) => name);

describe("a table in the order of a column", () => {
  it("has numbers by size, then texts, then what is missing; equals as they were", () => {
    expect(order(1, false)).toEqual(["berm", "bank", "crest", "ditch", "toe"]);
    expect(order(1, true)).toEqual(["crest", "berm", "bank", "ditch", "toe"]);
  });

  it("has texts by their letters", () => {
    expect(order(0, false)).toEqual(["bank", "berm", "crest", "ditch", "toe"]);
  });

  it("keeps each row's own index, and leaves the frame as it is", () => {
    const frame = frameOf(rows);
    expect(sorted(frame, 0, false).index).toEqual([4, 2, 0, 3, 1]);
    expect(sorted(frame, -1, true)).toBe(frame);
    expect(frame.index).toEqual([0, 1, 2, 3, 4]);
  });

  it("sorts a series by its values", () => {
    const series = { $isSeries: true, columns: ["x"], index: ["a", "b"], values: [2, 1] };
    expect(sorted(series, 0, false)).toMatchObject({ index: ["b", "a"], values: [1, 2] });
  });
});
