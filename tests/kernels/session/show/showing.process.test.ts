import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Cells, errorOf, startCells } from "../../support/cells.js";

let cells: Cells;
beforeAll(() => {
  cells = startCells();
});
afterAll(() => cells.stop());

const figure = `({
  $schema: "https://vega.github.io/schema/vega-lite/v5.json",
  title: "The lens lies at 412 m",
  data: { values: [{ x: 1 }] },
  mark: "point",
  encoding: { x: { field: "x", type: "quantitative" } },
})`;

describe("the value of a last expression", () => {
  it("is shown as the cell's result", async () => {
    const { outputs, executionCount } = await cells.run("6 * 7");
    expect(outputs).toEqual([
      {
        output_type: "execute_result",
        execution_count: executionCount,
        data: { "text/plain": "42" },
        metadata: {},
      },
    ]);
  });

  it("is awaited where it is a promise", async () => {
    expect(await cells.shown("Promise.resolve('soon')")).toBe("'soon'");
    const failed = await cells.run("Promise.reject(new RangeError('late'))");
    expect(errorOf(failed).evalue).toBe("late");
  });

  it("is silent for null, undefined, a statement, and before a semicolon", async () => {
    for (const source of ["null", "undefined", "let quiet = 1", "quiet;", "", "// a remark"]) {
      expect((await cells.run(source)).outputs).toEqual([]);
    }
  });

  it("is shortened where it is long", async () => {
    const text = String(await cells.shown("new Float64Array(5000)"));
    expect(text).toContain("Float64Array(5000)");
    expect(text).toContain("4980 more items");
    const wide =
      "Array.from({ length: 20 }, (_, i) => Object.fromEntries(Array.from({ length: 20 }, (_, k) => ['name' + k, 'x'.repeat(40)])))";
    const lines = String(await cells.shown(wide)).split("\n");
    expect(lines.length).toBe(61);
    expect(lines.at(-1)).toMatch(/^… \d+ more lines$/);
  });
});

describe("a value that shows itself", () => {
  it("gives one bundle by the open convention, now or later", async () => {
    const now = '({ [Symbol.for("Jupyter.display")]: () => ({ "text/html": "<b>now</b>" }) })';
    const later = now.replace("() =>", "async () =>");
    for (const source of [now, later]) {
      const { outputs } = await cells.run(source);
      expect(outputs).toMatchObject([{ data: { "text/html": "<b>now</b>" } }]);
    }
  });

  it("gives several outputs by our own, before the open convention", async () => {
    const source =
      '({ text: "b", [Symbol.for("Jupyter.display")]: () => ({ "text/plain": "one" }),\n' +
      '  async [Symbol.for("banquette.displays")]() {\n' +
      '    return [{ "text/plain": "a" }, { "text/plain": this.text }] } })';
    const { outputs } = await cells.run(source);
    expect(outputs.map((output) => output.output_type)).toEqual(["execute_result", "display_data"]);
    expect(outputs).toMatchObject([
      { data: { "text/plain": "a" } },
      { data: { "text/plain": "b" } },
    ]);
  });

  it("fails its cell where it cannot", async () => {
    const source = '({ [Symbol.for("Jupyter.display")]() { throw new Error("no paper") } })';
    expect(errorOf(await cells.run(source)).evalue).toBe("no paper");
  });
});

describe("a Vega-Lite specification", () => {
  it("is a figure with a drawing and its title as text beside it", async () => {
    const { outputs } = await cells.run(figure);
    expect(outputs).toMatchObject([
      {
        data: {
          "application/vnd.vegalite.v5+json": { mark: "point" },
          "image/svg+xml": expect.stringMatching(/^<svg/),
          "image/png": expect.stringMatching(/^iVBORw0KGgo/),
          "text/plain": "The lens lies at 412 m",
        },
      },
    ]);
  });
});

describe("a list of values that show themselves", () => {
  it("shows each in turn", async () => {
    const one = '{ [Symbol.for("Jupyter.display")]: () => ({ "text/plain": "one" }) }';
    const two =
      '{ [Symbol.for("banquette.displays")]: async () => [{ "text/plain": "two" }, { "text/plain": "three" }] }';
    const { outputs } = await cells.run(`[${one}, ${two}, ${figure}]`);
    const seen = outputs.map((output) => "data" in output && output.data["text/plain"]);
    expect(seen).toEqual(["one", "two", "three", "The lens lies at 412 m"]);
    expect(await cells.shown(`[${one}, 5]`)).toContain("5");
    expect(await cells.shown("[]")).toBe("[]");
  });
});

describe("large values", () => {
  const large: Readonly<Record<string, string>> = {
    "a long text": '"x".repeat(1e6)',
    "a long list": "Array.from({ length: 1e5 }, (_, i) => i)",
    "a table of rows":
      'Array.from({ length: 1e4 }, (_, i) => ({ chainage_m: i, note: "n".repeat(99) }))',
    "an object with many names":
      "Object.fromEntries(Array.from({ length: 1e4 }, (_, i) => ['name' + i, i]))",
    "a map": "new Map(Array.from({ length: 1e4 }, (_, i) => [i, i]))",
    "typed arrays in an object": "({ x_m: new Float64Array(1e6), y: new Int32Array(1e6) })",
    "a buffer": "new ArrayBuffer(1e6)",
    "lists within lists": "Array.from({ length: 99 }, () => Array(99).fill('z'.repeat(99)))",
  };
  for (const [what, source] of Object.entries(large)) {
    it(`are shortened: ${what}`, async () => {
      const text = String(await cells.shown(source));
      expect(text.length).toBeLessThan(21_000);
      expect(text).toMatch(/more (item|lines|characters|bytes)/);
    });
  }
});

describe("a data frame", () => {
  it("is a table in HTML, escaped, and in plain text", async () => {
    const source =
      'import { DataFrame, Series } from "danfojs-node";\n' +
      'const frame = new DataFrame([[1.23456789, "<i>"]], { columns: ["a & b", "c"] });\nframe';
    const { outputs } = await cells.run(source);
    const data = (outputs[0] as { data: Record<string, string> }).data;
    expect(data["text/html"]).toContain("<th>a &amp; b</th>");
    expect(data["text/html"]).toContain("<td>1.23457</td><td>&lt;i&gt;</td>");
    expect(data["text/plain"]).toContain("1 rows × 2 columns");
    expect(await cells.shown("new Series([1, 2])")).toContain("2 rows × 1 columns");
  });
});

describe("display", () => {
  it("shows several values in one cell, in order with what is printed between", async () => {
    const source = `display(1);\nconsole.log("between");\ndisplay(${figure});\nconsole.log("after");\n"last"`;
    const { outputs } = await cells.run(source);
    const seen = outputs.map((output) =>
      output.output_type === "stream" ? output.text : "data" in output && output.data["text/plain"],
    );
    expect(seen).toEqual(["1", "between\n", "The lens lies at 412 m", "after\n", "'last'"]);
  });
});

describe("the streams", () => {
  it("are captured in order, standard output and error apart", async () => {
    const source =
      'console.log("a"); console.log({ b: [1] });\n' +
      'console.error("c"); process.stdout.write("d"); process.stdout.write(Buffer.from("é"))';
    expect((await cells.run(`${source};`)).outputs).toEqual([
      { output_type: "stream", name: "stdout", text: "a\n{ b: [ 1 ] }\n" },
      { output_type: "stream", name: "stderr", text: "c\n" },
      { output_type: "stream", name: "stdout", text: "dé" },
    ]);
  });

  it("carry errors that nobody waits for", async () => {
    const source =
      'setTimeout(() => { throw new Error("stray") }, 1);\nawait new Promise((go) => setTimeout(go, 50));';
    const { ok, outputs } = await cells.run(source);
    expect(ok).toBe(true);
    expect(outputs).toMatchObject([{ name: "stderr", text: expect.stringContaining("stray") }]);
  });
});

describe("showing as what it is", () => {
  const png =
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
  const bundle = async (code: string) => {
    const { outputs } = await cells.run(code);
    const [output] = outputs;
    if (output === undefined || !("data" in output)) throw new Error(JSON.stringify(outputs));
    return output.data;
  };

  it.each([
    [
      "a bundle",
      'display({ "text/html": "<b>1.8 m</b>", "text/plain": "1.8 m" });',
      "text/html",
      "1.8 m",
    ],
    ["the bytes of an image", `Buffer.from("${png}", "base64")`, "image/png", "Image"],
    ["HTML", 'html("<b>1.8</b> m")', "text/html", "1.8 m"],
    ["Markdown", 'markdown("*bank*")', "text/markdown", "*bank*"],
    ["mathematics", 'latex("x^2")', "text/latex", "x^2"],
    [
      "an image with its text",
      `image(Buffer.from("${png}", "base64"), { alt: "Peg 7" })`,
      "image/png",
      "Peg 7",
    ],
    [
      "a drawing",
      `svg('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', { alt: "Toe" })`,
      "image/svg+xml",
      "Toe",
    ],
    ["rows", "table([{ at_m: 1, soil: 'clay' }, { at_m: 2 }])", "text/html", "2 rows × 2 columns"],
    [
      "a specification without its schema",
      'vegaLite({ title: "Toe", data: { values: [{ x: 1 }, { x: 2 }] }, mark: "point", encoding: { x: { field: "x", type: "quantitative" } } })',
      "image/svg+xml",
      "Toe",
    ],
  ])("shows %s", async (_, code, mime, text) => {
    const data = await bundle(code);
    expect(data[mime]).toBeTruthy();
    expect(data["text/plain"]).toContain(text);
  });

  it.each([
    ["a view", '{ data: { values: [{ x: 1 }] }, mark: "point", encoding: { x: { field: "x" } } }'],
    [
      "a mark with options",
      '{ data: { values: [] }, mark: { type: "rule" }, encoding: { y: { field: "y" } } }',
    ],
    [
      "views over each other",
      '{ data: { values: [] }, encoding: { x: { field: "x" } }, layer: [{ mark: "line" }, { mark: "rule" }] }',
    ],
    [
      "views beside each other",
      '{ hconcat: [{ data: { values: [] }, mark: "bar", encoding: { x: { field: "x" } } }] }',
    ],
  ])("takes %s for a specification without its schema", async (_, spec) => {
    const data = await bundle(`(${spec})`);
    const figure = data["application/vnd.vegalite.v5+json"];
    expect(figure).toMatchObject({ $schema: expect.stringContaining("vega-lite/v5") });
    expect(data["image/svg+xml"]).toMatch(/^<svg/);
  });

  it.each([
    '({ mark: "peg 7", data: {} })',
    '({ mark: "point", data: { values: [] } })',
    '({ mark: "point", encoding: { x: { field: 7, type: "depth" } }, layer: 3, transform: 7 })',
    "({ layer: [{ top_m: 1 }] })",
    "({ layer: [], data: {} })",
    '({ $schema: "https://example.org/other", mark: "point", data: {} })',
  ])("takes %s for what it is", async (code) => {
    expect(Object.keys(await bundle(code))).toEqual(["text/plain"]);
  });

  it("gives each image the text that stands for it", async () => {
    const metadata = async (code: string) => {
      const { outputs } = await cells.run(code);
      return outputs.map((one) => ("metadata" in one ? one.metadata : null));
    };
    const bytes = `Buffer.from("${png}", "base64")`;
    const peg = { "image/png": { alt: "Peg 7" } };
    expect(await metadata(`image(${bytes}, { alt: "Peg 7" })`)).toEqual([peg]);
    expect(await metadata(`display(image(${bytes}, { alt: "Peg 7" }));`)).toEqual([peg]);
    expect(await metadata(figure)).toEqual([
      {
        "image/svg+xml": { alt: "The lens lies at 412 m" },
        "image/png": { alt: "The lens lies at 412 m" },
      },
    ]);
    const toe = await bundle(
      `svg('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', { alt: "Toe & crest" })`,
    );
    expect(toe["image/svg+xml"]).toContain('role="img"');
    expect(toe["image/svg+xml"]).toContain("<title>Toe &#38; crest</title></svg>");
  });

  it("prints a trace in the cells' own lines", async () => {
    const { executionCount, outputs } = await cells.run(
      "function walk() {\n  console.trace('at peg', 7);\n}\nwalk();",
    );
    const text = outputs.map((one) => ("text" in one ? one.text : "")).join("");
    expect(text).toBe(
      `Trace: at peg 7\n    at walk (cell ${executionCount}, line 2)\n    at cell ${executionCount}, line 4\n`,
    );
  });

  it("leaves other bytes and objects as they are", async () => {
    expect(await bundle("Uint8Array.of(1, 2)")).toEqual({ "text/plain": "Uint8Array(2) [ 1, 2 ]" });
    expect(Object.keys(await bundle('({ "a/b": 1 })'))).toEqual(["text/plain"]);
  });

  it("tells causes and the parts of an AggregateError with their places", async () => {
    const error = errorOf(
      await cells.run(
        "const at = (n: number) => new Error('gauge ' + n);\n" +
          'throw new AggregateError([at(1), new TypeError("level", { cause: at(2) })], "all", { cause: at(3) })',
      ),
    );
    const lines = error.traceback.filter((line) => !line.startsWith("    at cell"));
    expect(lines.slice(2)).toEqual([
      "1 of 2: Error: gauge 1",
      expect.stringMatching(/^ {4}at at \(cell \d+, line 1\)$/),
      "2 of 2: TypeError: level",
      "Caused by Error: gauge 2",
      expect.stringMatching(/^ {4}at at \(cell \d+, line 1\)$/),
      "Caused by Error: gauge 3",
      expect.stringMatching(/^ {4}at at \(cell \d+, line 1\)$/),
    ]);
  });
});
