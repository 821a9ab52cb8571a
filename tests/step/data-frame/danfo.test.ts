import { describe, expect, it } from "vitest";
import { danfo } from "../../../lib/step/data-frame/danfo.js";

const { DataFrame } = await danfo();
const rows = [
  ["a", 3],
  ["b", 1],
  ["c", 2],
];

// Picked by yes or no, rows are those of the same frame with an index that counts from 0.
describe.each([
  ["that counts", [0, 1, 2]],
  ["of other places", [2, 0, 1]],
  ["of chainages", [700, 5, 20.5]],
  ["of words", ["x", "y", "z"]],
])("a frame with an index %s", (_, index) => {
  const frame = new DataFrame(rows, { columns: ["name", "size"], index });
  const large = frame.column("size").gt(1);

  it("is filtered by a condition, and again", () => {
    const found = frame.query(large);
    expect(found.values).toEqual([rows[0], rows[2]]);
    expect(found.index).toEqual([index[0], index[2]]);
    expect(found.query(found.column("size").lt(3)).values).toEqual([rows[2]]);
    expect(frame.query(large.values as boolean[]).values).toEqual(found.values);
  });

  it("gives rows by place, by yes and no, and columns alone", () => {
    expect(frame.iloc({ rows: [1] }).values).toEqual([rows[1]]);
    expect(frame.iloc({ rows: large }).values).toEqual([rows[0], rows[2]]);
    expect(frame.iloc({ columns: [1] }).values).toEqual([[3], [1], [2]]);
    expect(frame.column("size").iloc(large as never).values).toEqual([3, 2]);
    expect(frame.iloc({ rows: ["0:2"] }).values).toEqual([rows[0], rows[1]]);
  });
});
