import { describe, expect, it } from "vitest";
import { UnknownParameter } from "../../../kernels/notebook/notebook-fault.js";
import { withParameters } from "../../../kernels/notebook/parameters.js";
import { code, notebook, text } from "../support/notebooks.js";

const declaring = code("p", 'let rows = 3;\nconst folder = "here", deep = [1];', "parameters");

describe("parameters", () => {
  it("are given their values in a cell of their own after the one that declares them", () => {
    const given = notebook(text("t", "# T"), declaring, code("c", "rows"));
    const { cells } = withParameters(given, { rows: 7, folder: 'a "b"', deep: { x: null } });
    expect(cells.map((cell) => cell.id)).toEqual(["t", "p", "injected-parameters", "c"]);
    expect(cells[2]).toMatchObject({
      metadata: { tags: ["injected-parameters"] },
      source: 'rows = 7;\nconst folder: string = "a \\"b\\"";\nconst deep = {"x":null};',
    });
    expect(given.cells).toHaveLength(3);
  });

  it("replace those of an earlier run", () => {
    const once = withParameters(notebook(declaring), { rows: 1 });
    const twice = withParameters(once, { rows: 2 });
    expect(twice.cells.map((cell) => cell.source)).toEqual([declaring.source, "rows = 2;"]);
    expect(withParameters(twice, {}).cells).toEqual([declaring]);
  });

  it("keep the kind of a constant: its written type, or that of its literal", () => {
    const cell = code(
      "p",
      "const a: number | null = 1, b = -2, c = true, d = `x`, [e] = [1];\nlet { f, g: [h] } = made;",
      "parameters",
    );
    const set = { a: null, b: 3, c: false, d: "y", e: 2, f: 1, h: Number.POSITIVE_INFINITY };
    expect(withParameters(notebook(cell), set).cells[1]?.source.split("\n")).toEqual([
      "const a: number | null = null;",
      "const b: number = 3;",
      "const c: boolean = false;",
      'const d: string = "y";',
      "const e = 2;",
      "f = 1;",
      "h = Infinity;",
    ]);
  });

  it("are found below the option lines of their cell", () => {
    const cell = code("p", "#| label: inputs\nlet rows = 1;", "parameters");
    expect(withParameters(notebook(cell), { rows: 2 }).cells[1]?.source).toBe("rows = 2;");
  });

  it("do not take the id of another cell", () => {
    const given = notebook(declaring, code("injected-parameters", "1"));
    expect(withParameters(given, { rows: 1 }).cells[1]?.id).toBe("injected-parameters-2");
  });

  it("that the notebook does not declare are refused, all of them", () => {
    expect(() => withParameters(notebook(declaring), { row: 1, rows: 2, no: 3 })).toThrow(
      new UnknownParameter([
        'parameter "row": must be one that the cell tagged "parameters" declares (rows, folder, deep)',
        'parameter "no": must be one that the cell tagged "parameters" declares (rows, folder, deep)',
      ]),
    );
    expect(() => withParameters(notebook(code("c", "let rows = 1")), { rows: 1 })).toThrow(
      'the notebook has no cell tagged "parameters"',
    );
  });
});
