import { describe, expect, it } from "vitest";
import { storedOrder } from "../../../kernels/notebook/stored-order.js";
import { code, notebook, text } from "../support/notebooks.js";

function order(...ran: readonly (readonly [string, number | null])[]): readonly string[] {
  const cells = ran.map(([source, execution_count], at) => ({
    ...code(`c${at}`, source),
    execution_count,
  }));
  return storedOrder(notebook(text("t", "# T"), ...cells));
}

describe("the stored order of a notebook", () => {
  it("is well where the counts rise, cells left out or run again included", () => {
    expect(order(["let a = 1", 1], ["a", 2])).toEqual([]);
    expect(order(["let a = 1", 2], ["a", null], ["a + 1", 5])).toEqual([]);
    expect(order(["a", null], ["let a = 1", null])).toEqual([]);
    expect(order()).toEqual([]);
  });

  it("is told where a cell ran before one above it", () => {
    expect(order(["let a = 1", 4], ["2", 2])).toEqual([
      "cell 2 ([2]) ran before cell 1 ([4]), which stands above it",
    ]);
  });

  it("is told by the name of which a cell read another value", () => {
    const texts = order(["let a = 1", 3], ["a = 5", 2], ["a", 4]);
    expect(texts.join("\n")).toMatch(/cell 3 \(\[4\]\) read the value of cell 1 .* of `a`/);
  });

  it("numbers cells as a run does: empty ones and those of option lines alone are left out", () => {
    expect(order(["", 9], ["#| label: a", null], ["1", 4], ["2", 2])).toEqual([
      "cell 2 ([2]) ran before cell 1 ([4]), which stands above it",
    ]);
  });
});
