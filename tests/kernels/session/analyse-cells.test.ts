import { describe, expect, it } from "vitest";
import { analyseCells } from "../../../kernels/session/analyse-cells.js";

const ran = (source: string, executionCount: number | null) => ({ source, executionCount });
const texts = (...cells: Parameters<typeof analyseCells>[0]) =>
  analyseCells(cells).problems.map(({ text }) => text);

describe("a stored notebook", () => {
  it("has for each cell what it defines, changes and reads", () => {
    const { cells, problems } = analyseCells([
      'import { read } from "somewhere"; let raw = read()',
      "function count() { return raw.length }",
      "const n = count(); raw[0] = Math.max(1, 2)",
    ]);
    expect(cells).toEqual([
      { defines: ["read", "raw"], changes: [], reads: [] },
      { defines: ["count"], changes: [], reads: [] },
      { defines: ["n"], changes: ["raw"], reads: ["count", "raw"] },
    ]);
    expect(problems).toEqual([]);
  });

  it("without faults gives none, whatever the counts are that it starts from", () => {
    expect(texts(ran("let a = 1", 4), ran("a", 7), ran("a + 1", 12))).toEqual([]);
  });

  it("tells a name that is read above the cell that makes it", () => {
    expect(texts("a + 1", "const a = 1")).toEqual([
      "cell 1 reads `a`, which cell 2 below it makes",
    ]);
    expect(texts("function f() { return a }", "const a = 1", "f()")).toEqual([]);
    expect(texts("function f() { return a }", "f()", "const a = 1")).toEqual([
      "cell 2 reads `a`, which cell 3 below it makes",
    ]);
  });

  it("tells a cell that read another value than from top to bottom", () => {
    expect(texts(ran("let a = 1", 1), ran("a = 2", 3), ran("a", 2))).toEqual([
      "cell 3 ([2]) ran before cell 2 ([3]), which stands above it",
      "cell 3 ([2]) read the value of cell 1 ([1]) of `a`; from top to bottom it is that of cell 2 ([3])",
    ]);
    expect(texts(ran("let a = 1", 5), ran("const b = a", 2))).toEqual([
      "cell 2 ([2]) ran before cell 1 ([5]), which stands above it",
      "cell 2 ([2]) read an earlier run's value of `a`; from top to bottom it is that of cell 1 ([5])",
    ]);
  });

  it("tells cells that did not run, where others did", () => {
    expect(texts(ran("let a = 1", 1), ran("a", null), ran("// a remark", null))).toEqual([
      "cell 2 has not run",
    ]);
    expect(texts(ran("let a = 1", null), ran("a", null))).toEqual([]);
  });

  it("is analysed although a cell is not TypeScript", () => {
    expect(() => analyseCells(["%%html <b>", "let = = 4", "#| label: x\nlet a"])).not.toThrow();
  });
});
