import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { analyseCells } from "../../../../kernels/session/lineage/analyse-cells.js";
import { Lineage } from "../../../../kernels/session/lineage/lineage.js";
import { repository } from "../../support/cells.js";

const ran = (source: string, executionCount: number | null) => ({ source, executionCount });
const texts = (...cells: Parameters<typeof analyseCells>[0]) =>
  analyseCells(cells).problems.map(({ text }) => text);

/** The sources of the code cells of each notebook in this repository. */
async function notebooks(): Promise<string[][]> {
  const folder = join(repository, "notebooks");
  const names = (await readdir(folder, { recursive: true })).filter((one) =>
    one.endsWith(".ipynb"),
  );
  expect(names.length).toBeGreaterThan(0);
  return Promise.all(
    names.map(async (name) => {
      const { cells } = JSON.parse(await readFile(join(folder, name), "utf8")) as {
        readonly cells: readonly {
          readonly cell_type: string;
          readonly source: string | string[];
        }[];
      };
      const code = cells.filter(({ cell_type }) => cell_type === "code");
      return code.map(({ source }) => [source].flat().join(""));
    }),
  );
}

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

  it("of this repository has no faults, and says nothing however often it runs", async () => {
    for (const source of await notebooks()) {
      expect(analyseCells(source).problems).toEqual([]);
      const lineage = new Lineage();
      for (const [at, cell] of [...source, ...source].entries()) {
        const planned = lineage.plan(cell, { execution: at + 1, cell: null });
        expect(planned.notice, cell).toBe(null);
        planned.done(null);
      }
    }
  });

  it("is analysed although a cell is not TypeScript", () => {
    expect(() => analyseCells(["%%html <b>", "let = = 4", "#| label: x\nlet a"])).not.toThrow();
  });
});
