import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Cells, errorOf, startCells } from "../../support/cells.js";

let cells: Cells;
beforeAll(() => {
  cells = startCells();
});
afterAll(() => cells.stop());

const uncheckedHint =
  "A cell that begins with the line `// unchecked` runs in spite of type errors.";

/** [what, cell, what its traceback says from the fault's mark on]. */
const unreadable: readonly (readonly [string, string, string])[] = [
  [
    "a bracket that is not closed",
    "const a = Math.max(1, [2, 3;\nconst b = 4;",
    "^ ',' expected. (TS1005); the [ of line 1, column 23 is open",
  ],
  [
    "a brace that is missing behind the last line",
    "function f() {\n  if (true) {\n  return 1;\n}\n",
    "^ '}' expected. (TS1005); the { of line 1, column 14 is open",
  ],
  ["a text without its end", "const t = `abc", "^ Unterminated template literal. (TS1160)"],
  [
    "a bracket behind a template and a pattern with others",
    // biome-ignore lint/suspicious/noTemplateCurlyInString: the text of a cell
    "const t = `${[1].map((x) => `(${x}`)}` + /[(]/.source; f(t",
    "^ ',' expected. (TS1005); the ( of line 1, column 57 is open",
  ],
];

describe("a text that cannot be read", () => {
  it.each(unreadable)("is told once, with its place: %s", async (_, source, said) => {
    const { traceback } = errorOf(await cells.run(source));
    expect(traceback).toHaveLength(2);
    expect(traceback[1]).toContain(said);
  });
});

describe("a failed type check", () => {
  it("names the import of what the library exports", async () => {
    const { traceback } = errorOf(await cells.run("maskInterference(1)"));
    expect(traceback[1]).toContain(
      "Cannot find name 'maskInterference'. (TS2304); missing: import { maskInterference } from \"banquette\";",
    );
  });

  it("shows a code frame and runs nothing", async () => {
    const { ok, outputs } = await cells.run(
      'console.log("ran");\nlet unborn = 1;\nconst spacing_m: number = "1.2";',
    );
    expect(ok).toBe(false);
    expect(outputs).toHaveLength(1);
    expect(errorOf({ ok, outputs, executionCount: 1 })).toEqual({
      output_type: "error",
      ename: "TypeCheckError",
      evalue: "Type 'string' is not assignable to type 'number'.",
      traceback: [
        "TypeCheckError: the cell does not pass the type check; nothing of it ran",
        [
          "  2 | let unborn = 1;",
          '> 3 | const spacing_m: number = "1.2";',
          "    |       ^^^^^^^^^ Type 'string' is not assignable to type 'number'. (TS2322)",
        ].join("\n"),
        uncheckedHint,
      ],
    });
    expect(errorOf(await cells.run("unborn")).evalue).toBe("Cannot find name 'unborn'.");
  });

  it("is strict", async () => {
    const implicit = errorOf(await cells.run("function loose(x) { return x }"));
    expect(implicit.traceback.join("\n")).toContain("(TS7006)");
    const maybe = errorOf(await cells.run("[1].find((x) => x > 1).toFixed()"));
    expect(maybe.evalue).toBe("Object is possibly 'undefined'.");
  });

  it("knows the types of the library", async () => {
    const error = errorOf(
      await cells.run('import { StepError } from "banquette";\nnew StepError(1, [])'),
    );
    expect(error.evalue).toContain("'number' is not assignable to parameter of type 'string'");
  });

  it("lets pass what Node 20 has and what a declaration cannot name", async () => {
    const source = "[3, 1].toSorted().with(0, 9);\nconst hidden = class { private depth = 1 }";
    expect((await cells.run(source)).ok).toBe(true);
    expect(await cells.shown("new hidden().depth")).toBe("1");
  });

  it("counts the faults that it does not show", async () => {
    const source = Array.from({ length: 14 }, (_, i) => `missing${i}()`).join("\n");
    const { traceback } = errorOf(await cells.run(source));
    expect(traceback).toHaveLength(13);
    expect(traceback.slice(-2)).toEqual(["and 4 more", uncheckedHint]);
  });
});

describe("a thrown error", () => {
  it("has its name, message and a trace in the cells' own lines, without the kernel's", async () => {
    const made = await cells.run(
      "interface Reading { value: number }\n\n// checked\nfunction check(reading: Reading) {\n" +
        '  if (!(reading.value > 0)) throw new RangeError("value must be above 0");\n}',
    );
    const { executionCount, outputs } = await cells.run("\ncheck({ value: Number.NaN })");
    expect(outputs).toEqual([
      {
        output_type: "error",
        ename: "RangeError",
        evalue: "value must be above 0",
        traceback: [
          "RangeError: value must be above 0",
          [
            "  4 | function check(reading: Reading) {",
            '> 5 |   if (!(reading.value > 0)) throw new RangeError("value must be above 0");',
            "    |                                   ^",
            "  6 | }",
          ].join("\n"),
          `    at check (cell ${made.executionCount}, line 5)`,
          `    at cell ${executionCount}, line 2`,
        ],
      },
    ]);
  });

  it("reads the same where the cell prints it", async () => {
    const text = String(await cells.shown('new Error("kept")'));
    expect(text).toMatch(/^Error: kept\n {4}at cell \d+, line 1$/);
  });

  it("names its cause", async () => {
    const thrown = await cells.run('throw new Error("outer", { cause: new TypeError("inner") })');
    expect(errorOf(thrown).traceback).toContain("Caused by TypeError: inner");
  });

  it("may be any value", async () => {
    expect(errorOf(await cells.run("throw 5"))).toMatchObject({ evalue: "5" });
    expect(errorOf(await cells.run("throw 'text'"))).toMatchObject({ evalue: "text" });
    expect(errorOf(await cells.run("throw undefined"))).toMatchObject({ evalue: "undefined" });
    expect(errorOf(await cells.run("throw { a: 1 }"))).toMatchObject({ evalue: "{ a: 1 }" });
  });

  it("from a library shows the way there without machine paths", async () => {
    const thrown = await cells.run(
      'import { Matrix } from "ml-matrix";\nMatrix.zeros(2, 2).mmul(null as never)',
    );
    const text = errorOf(thrown).traceback.join("\n");
    expect(text).toMatch(/ml-matrix\/.*:\d+/);
    expect(text).not.toMatch(/node_modules|file:|kernels|inspector/);
  });
});
