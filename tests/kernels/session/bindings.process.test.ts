import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Cells, errorOf, startCells } from "../support/cells.js";

let cells: Cells;
beforeAll(() => {
  cells = startCells();
});
afterAll(() => cells.stop());

describe("one binding a name", () => {
  it("lets a closure of an earlier cell and a later cell write the same variable", async () => {
    // The case of design.md: a kernel with two copies of the variable gives 6.
    const text = await cells.shown(
      "let total = 0; function add(x: number) { total += x; return total }",
      "add(5)",
      "total = 100",
      "add(1)",
    );
    expect(text).toBe("101");
  });

  it("gives a re-seeded generator its first number again", async () => {
    const draw = "function draw() { seed = (seed * 16807) % 2147483647; return seed }";
    const first = await cells.shown(`let seed = 7; ${draw}`, "draw()");
    expect(await cells.shown("draw()")).not.toBe(first);
    expect(await cells.shown("seed = 7;", "draw()")).toBe(first);
  });

  it("lets functions of an earlier cell call what was declared anew", async () => {
    const text = await cells.shown(
      "function inner() { return 'old' }\nfunction outer() { return inner() }",
      "function inner() { return 'new' }",
      "outer()",
    );
    expect(text).toBe("'new'");
  });

  it("lets a recursive function be replaced under its own name", async () => {
    const text = await cells.shown(
      "let count = (n: number): number => n === 0 ? 0 : 1 + count(n - 1)",
      "const before = count;",
      "count = () => 40;",
      "before(3)",
    );
    expect(text).toBe("41");
  });
});

const kinds: Readonly<Record<string, (name: string) => string>> = {
  let: (name) => `let ${name} = 1`,
  const: (name) => `const ${name} = 1`,
  var: (name) => `var ${name} = 1`,
  function: (name) => `function ${name}() {}`,
  class: (name) => `class ${name} {}`,
  enum: (name) => `enum ${name} { a }`,
  import: (name) => `import * as ${name} from "node:path"`,
};

describe("redeclaration", () => {
  for (const [first, declare] of Object.entries(kinds)) {
    for (const [second, again] of Object.entries(kinds)) {
      it(`allows ${second} after ${first}`, async () => {
        const name = `${first}_${second}`;
        expect((await cells.run(declare(name))).ok).toBe(true);
        expect((await cells.run(again(name))).ok).toBe(true);
        const callable = ["function", "class"].includes(second);
        expect(await cells.shown(`typeof ${name}`)).toBe(
          callable ? "'function'" : ["enum", "import"].includes(second) ? "'object'" : "'number'",
        );
      });
    }
  }

  it("takes the new type with the new value", async () => {
    expect(await cells.shown("const width = 4", "const width = 'four'", "width.length")).toBe("4");
  });

  it("keeps a var of a loop and of a block as a name of the notebook", async () => {
    const text = await cells.shown(
      "for (var row = 0; row < 3; row++) { var twice = 2 * row }\nvar { a, b: [c = 5] } = { a: 1, b: [] as number[] }",
      "[row, twice, a, c].join()",
    );
    expect(text).toContain("3,4,1,5");
  });
});

describe("a cell that throws", () => {
  it("keeps what it did before, in value and in type", async () => {
    const thrown = await cells.run("let kept: number = 1;\nkept = 2;\nthrow new Error('stop')");
    expect(errorOf(thrown).ename).toBe("Error");
    expect(await cells.shown("kept.toFixed(1)")).toBe("'2.0'");
  });

  it("lets names be declared anew that it did not come to", async () => {
    await cells.run("throw new Error('stop');\nlet reached = 1");
    expect(errorOf(await cells.run("reached")).ename).toBe("ReferenceError");
    expect(await cells.shown("let reached = 3", "reached")).toBe("3");
  });
});

describe("a cell that throws before it declares a name anew", () => {
  const before = [
    "let width = 1; class Bank { length_m = 2 } let kind = 'clay'",
    "throw new Error('stop');\nlet width = 'wide', kind = 3; class Bank { name = '' }",
  ];

  it("leaves the old type with the old value", async () => {
    const text = await cells.shown(
      ...before,
      "[width.toFixed(1), new Bank().length_m.toFixed(1), kind.length].join()",
    );
    expect(text).toBe("'1.0,2.0,4'");
  });

  it("takes the new type of what it had made by then", async () => {
    const thrown = "let width = 'wide';\nconst kind = JSON.parse('{') as number;";
    await cells.run(before[0] as string, thrown);
    expect(await cells.shown("width.length + kind.length")).toBe("8");
  });
});

describe("the language of a cell", () => {
  it("awaits and iterates at the top level", async () => {
    const source =
      "let sum = await Promise.resolve(1);\n" +
      "async function* steps() { yield 2; yield 3 }\n" +
      "for await (const step of steps()) sum += step;\nsum";
    expect(await cells.shown(source)).toBe("6");
  });

  it("runs in strict mode", async () => {
    expect(await cells.shown("(function (this: unknown) { return this === undefined })()")).toBe(
      "true",
    );
  });

  it("takes code copied from a module, the word export included", async () => {
    const text = await cells.shown(
      "export const depth_m = 3;\nexport function twice(x: number) { return 2 * x }",
      "twice(depth_m)",
    );
    expect(text).toBe("6");
    expect(await cells.shown("export default depth_m")).toBe("3");
    expect(await cells.shown("export default function once() { return 1 }", "once()")).toBe("1");
  });

  it("keeps interfaces, generics and parameter properties from cell to cell", async () => {
    const text = await cells.shown(
      "interface Layer { thickness_m: number }\nclass Stack<T> { constructor(readonly items: T[]) {} }",
      "const stack = new Stack<Layer>([{ thickness_m: 2 }]);",
      "stack.items[0]!.thickness_m.toFixed(1)",
    );
    expect(text).toBe("'2.0'");
  });
});
