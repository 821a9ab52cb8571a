import { describe, expect, it } from "vitest";
import { outOfOrder } from "../../../kernels/notebook/stored-order.js";
import { code, notebook, text } from "../support/notebooks.js";

function order(...counts: readonly (number | null)[]): string[] {
  const cells = counts.map((execution_count, at) => ({
    ...code(`c${at}`, at === 0 ? "let a = 1;" : "a"),
    execution_count,
  }));
  const found = outOfOrder(notebook(text("t", "# T"), ...cells));
  return found.map(({ cell, ranBefore }) => `${cell.id} after ${ranBefore.id}`);
}

describe("the stored order of a notebook", () => {
  it("is from top to bottom where the counts rise, cells left out or run again included", () => {
    expect(order(1, 2, 3)).toEqual([]);
    expect(order(2, null, 5)).toEqual([]);
    expect(order(null, null)).toEqual([]);
    expect(order()).toEqual([]);
  });

  it("names each cell that had run after one below it", () => {
    expect(order(4, 2, 3)).toEqual(["c0 after c1"]);
    expect(order(1, 3, 2)).toEqual(["c1 after c2"]);
    expect(order(3, 2, 1)).toEqual(["c0 after c1", "c1 after c2"]);
  });

  it("cannot be told from equal counts, which come from two kernels", () => {
    expect(order(1, 1)).toEqual(["c0 after c1"]);
  });
});
