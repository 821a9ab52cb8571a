import { describe, expect, it } from "vitest";
import { Lineage } from "../../../../kernels/session/lineage/lineage.js";

/** Cells in the order in which they run, as text or as [id, text]; gives each one's notice. */
function notices(...cells: readonly (string | readonly [string, string])[]): string[] {
  const lineage = new Lineage();
  return cells.map((cell, at) => {
    const [id, source] = typeof cell === "string" ? [null, cell] : cell;
    const planned = lineage.plan(source, { execution: at + 1, cell: id });
    planned.done(null);
    return String(planned.notice?.data["text/plain"] ?? "");
  });
}

const lastOf = (...cells: readonly (string | readonly [string, string])[]) =>
  notices(...cells).at(-1);

/** Runs the cells, then makes `slices` anew, then the last one: is it told? */
function isTold(cells: readonly string[], last: string): boolean {
  const all = ["let slices = [1], other = 2", ...cells, "slices = [3]", last];
  const said = notices(...all);
  expect(said.slice(0, -1).join("")).toBe("");
  return said.at(-1) !== "";
}

describe("a cell that uses a name made from what has been remade", () => {
  it("says which cell made it, from what, and what to run again", () => {
    expect(
      lastOf("const slices = [1]", "const blocks = slices.length", "const slices = [2]", "blocks"),
    ).toBe(
      "`blocks` was made by cell [2] from `slices` as of [1]; " +
        "`slices` has been remade by [3]: run [2] again.",
    );
  });

  it("names the whole way where it is longer", () => {
    expect(
      lastOf("let raw = [1]", "const a = raw[0]", "const b = a", "raw = [2]", "console.log(b)"),
    ).toBe(
      "`b` was made by cell [3] from `a`, made by [2] from `raw` as of [1]; " +
        "`raw` has been remade by [4]: run [2], then [3] again.",
    );
  });

  it("says nothing once the cells have run again, in order", () => {
    const cells = ["let raw = f()", "const a = raw", "const b = a", "b"];
    expect(notices(...cells, ...cells, ...cells).join("")).toBe("");
  });

  it("counts the cells on a long way", () => {
    const chain = Array.from({ length: 8 }, (_, at) => `let n${at + 1} = n${at} + 1`);
    expect(lastOf("let n0 = [1]", ...chain, "n0 = [2]", "n8")).toBe(
      "`n8` was made by cell [9] by way of 7 others from `n0` as of [1]; " +
        "`n0` has been remade by [10]: run those cells again.",
    );
  });

  it("follows a long way quickly", () => {
    const chain = Array.from({ length: 2000 }, (_, at) => `let n${at + 1} = n${at} + 1`);
    const all = chain.map((_, at) => `n${at}`).join(" + ");
    const before = performance.now();
    expect(notices("let n0 = [1]", chain.join("\n"), all, all).join("")).toBe("");
    expect(lastOf("let n0 = [1]", chain.join("\n"), "n0 = [2]", "n2000")).toBe(
      "`n2000` was made by cell [2] from `n0` as of [1]; `n0` has been remade by [3]: run [2] again.",
    );
    // Each name is looked at once a cell: a walk from each name anew would take minutes.
    expect(performance.now() - before).toBeLessThan(5000);
  });

  it("counts the names that it does not show", () => {
    const names = Array.from({ length: 8 }, (_, at) => `n${at}`);
    const made = names.map((name) => `const ${name} = raw;`).join("\n");
    const text = lastOf("let raw = [1]", made, "raw = [2]", names.join("; "));
    expect(text?.split("\n")).toHaveLength(6);
    expect(text).toContain("and 3 more names");
  });
});

const uses: Readonly<Record<string, readonly [readonly string[], string]>> = {
  "a destructured name": [["const { length: n } = slices"], "n"],
  "a default value": [["const { n = slices.length } = {} as { n?: number }"], "n"],
  "a name made in a template": [["const text = `$" + "{slices}`"], "text"],
  "a name made through a callback": [["const sums = [1].map((x) => x + slices[0]!)"], "sums"],
  "a name made by a function that captures": [
    ["function count() { return slices.length }", "const n = count()"],
    "n",
  ],
  "a name made by a function that calls another": [
    ["const inner = () => slices.length", "function outer() { return inner() }", "let n = outer()"],
    "n",
  ],
  "a name made by a method of an object literal": [
    ["const api = { count() { return slices.length } }", "const n = api.count()"],
    "n",
  ],
  "a name made by a method of a class": [
    ["class Counter { count() { return slices.length } }", "const n = new Counter().count()"],
    "n",
  ],
  "a name made through an alias": [
    ["function count() { return slices.length }", "const again = count", "const n = again()"],
    "n",
  ],
  "a name assigned in a loop": [["let best = 0; for (const s of slices) best = s"], "best"],
  "a var of a loop": [["for (var last = 0; last < slices.length; last++) {}"], "last"],
  "a name assigned under a condition": [["let best = 0; if (slices.length) best = 1"], "best"],
  "a stale name within a function that it calls": [
    ["const n = slices.length", "function show() { return n }"],
    "show()",
  ],
  "a stale name in a callback": [["const n = slices.length"], "[1].map((x) => x + n)"],
  "a stale name as a shorthand property": [["const n = slices.length"], "({ n })"],
  "a stale name in a computed key": [["const n = slices.length"], "({ [n]: 1 })"],
  "a stale class that extends": [
    ["const base = slices.length ? class {} : class {}"],
    "class B extends base {}",
  ],
};

describe("a cell is told of", () => {
  for (const [what, [cells, last]] of Object.entries(uses)) {
    it(what, () => expect(isTold(cells, last)).toBe(true));
  }
});

const silent: Readonly<Record<string, readonly [readonly string[], string]>> = {
  "a parameter of the same name": [["const f = (slices: number) => slices", "const n = f(1)"], "n"],
  "a local of the same name": [["const n = (() => { const slices = 1; return slices })()"], "n"],
  "a block's variable of the same name": [["let n = 0; { const slices = 2; n = slices }"], "n"],
  "a loop's variable of the same name": [["let n = 0; for (const slices of [1]) n = slices"], "n"],
  "a caught error of the same name": [["let n; try { f() } catch (slices) { n = slices }"], "n"],
  "a local var below its use": [["const n = (() => { slices = 1; var slices })()"], "n"],
  "a property of the same name": [["const n = { slices: 1 }.slices"], "n"],
  "a method of the same name": [["const n = { slices() { return 1 } }"], "n"],
  "a class member of the same name": [["class A { slices = 1; get other() { return 2 } }"], "A"],
  "a label of the same name": [["let n = 0; slices: for (;;) { n = 1; break slices }"], "n"],
  "a type": [["type S = typeof slices; const n: S | number = 1"], "n"],
  "a type argument": [["const n = new Map<string, typeof slices>()"], "n"],
  "an interface": [["interface slices2 { slices: number }; const n = 1 as never as slices2"], "n"],
  "a function, which reads when it is called": [["function f() { return slices }"], "f()"],
  "a function value": [["const f = () => slices"], "f()"],
  "a renamed pattern key": [["const { slices: n } = { slices: 1 }"], "n"],
  "the name that is made anew itself": [["const n = other"], "slices"],
  "a name that the cell makes itself first": [["let n = slices.length"], "n = other; n"],
  "a name that it only assigns to": [["let n = slices.length"], "n = 5"],
};

describe("a cell is not told of", () => {
  for (const [what, [cells, last]] of Object.entries(silent)) {
    it(what, () => expect(isTold(cells, last)).toBe(false));
  }

  it("code that ran again and gives the same: imports, functions, plain numbers", () => {
    const fixed =
      'import { join } from "node:path"; function f() { return 1 }; const g = () => 2; let n = -1.5';
    expect(lastOf(fixed, "const made = join(f(), g(), n)", fixed, "made")).toBe("");
    const changed = fixed.replace("return 1", "return 2");
    expect(lastOf(fixed, "const made = join(f(), g(), n)", changed, "made")).toContain("`f`");
  });

  it("a generator's state, which each draw changes", () => {
    const cells = [
      "let seed = 7; function draw() { seed = seed * 16807 % 2147483647; return seed }",
      "const first = draw()",
      "const second = draw()",
      "seed = 7",
      "first === draw()",
    ];
    expect(notices(...cells).join("")).toBe("");
  });
});

describe("a name whose cell no longer makes it", () => {
  it("keeps its old value, and its users are told", () => {
    const said = notices(
      ["a", "let slices = [1]"],
      ["b", "let n = slices.length"],
      ["a", "let pieces = [1]"],
      ["c", "n"],
      ["d", "slices"],
    );
    expect(said[3]).toBe(
      "`n` was made by cell [2] from `slices` as of [1]; `slices` is no longer made by its cell " +
        "since [3]: run [2] again.",
    );
    expect(said[4]).toBe(
      "`slices` was made by cell [1], which no longer makes it since [3]: it keeps its old value.",
    );
  });

  it("is told of a deleted cell, too", () => {
    const lineage = new Lineage();
    lineage.plan("let a = [1]", { execution: 1, cell: "one" }).done(null);
    lineage.remove(["one"], 1);
    const { notice } = lineage.plan("a", { execution: 2, cell: "two" });
    expect(notice?.data["text/plain"]).toContain("no longer makes it since [1]");
  });
});

describe("lineage as data", () => {
  it("has for each name the execution that made it and what that read", () => {
    const lineage = new Lineage();
    lineage.plan("let raw = [1]", { execution: 1, cell: "one" }).done(null);
    lineage.plan("const n = raw.length; raw[0] = 2", { execution: 2, cell: "two" }).done(null);
    lineage.plan("raw = [5]", { execution: 3, cell: null }).done(null);
    const { names, executions } = lineage.data();
    expect(names).toMatchObject([
      { name: "raw", execution: 3, cell: null, stale: false, reads: [] },
      { name: "n", execution: 2, cell: "two", stale: true, reads: [{ name: "raw", execution: 1 }] },
    ]);
    expect(executions[1]).toMatchObject({ defines: ["n"], changes: ["raw"], execution: 2 });
    expect(structuredClone({ names, executions })).toEqual({ names, executions });
  });

  it("counts only what ran before a throw", () => {
    const lineage = new Lineage();
    lineage.plan("const a = 1;\nf();\nconst b = a;", { execution: 1, cell: null }).done(1);
    expect(lineage.data().names.map(({ name }) => name)).toEqual(["a"]);
  });
});

/** [what, cell that makes it, cell that changes it]: `n` was made from it in between. */
const changes: readonly (readonly [string, string, string])[] = [
  ["a compound assignment", "let r = 1", "r += 3"],
  ["an increment", "let r = 1", "r++"],
  ["a value that takes the old one", "let r = [1]", "r = r.concat(2)"],
  ["a property", "const r = { k: 1 }", "r.k = 7"],
  ["a property of a property", "const r = { k: { l: 1 } }", "r.k.l = 7"],
  ["an element", "const r = [1]", "r[0] = 2"],
  ["a removed property", "const r: { k?: 1 } = { k: 1 }", "delete r.k"],
  ["push", "const r = [1]", "r.push(2)"],
  ["push in a loop", "const r = [1]", "for (const x of [1, 2]) r.push(x)"],
  ["push in a callback", "const r = [1]", "[1, 2].forEach((x) => r.push(x))"],
  ["splice", "const r = [1]", "r.splice(0, 1)"],
  ["sort", "const r = [1]", "r.sort()"],
  ["sort whose result is named", "const r = [2, 1]", "const sorted = r.sort()"],
  ["reverse", "const r = [1]", "r.reverse()"],
  ["fill of a typed array", "const r = new Float64Array(2)", "r.fill(1)"],
  ["set of a map", "const r = new Map()", "r.set(1, 2)"],
  ["add of a set", "const r = new Set()", "r.add(1)"],
  ["clear", "const r = new Set([1])", "r.clear()"],
  ["a method of a part of it", "const r = { rows: [1] }", "r.rows.push(2)"],
  ["Object.assign", "const r = { k: 1 }", "Object.assign(r, { k: 2 })"],
  ["Reflect.set", "const r = { k: 1 }", 'Reflect.set(r, "k", 2)'],
  ["a data frame in place", "const r = table()", 'r.drop({ columns: ["a"], inplace: true })'],
  ["assignment by a list's pattern", "let r = 1, o = 2", "[r, o] = [o, r]"],
  ["assignment by an object's pattern", "let r = 1", "({ r } = { r: 2 })"],
  ["assignment of a part by a pattern", "const r = { k: 1 }", "[r.k] = [2]"],
  ["a function that changes it", "const r = [1]; function grow() { r.push(2) }", "grow()"],
  ["a function of its own that assigns", "let r = 1; const grow = () => { r += 1 }", "grow()"],
  ["an assignment under a condition", "let r = 1", "if (true) r = 2"],
  ["an assignment in a try", "let r = 1", "try { r = 2 } catch {}"],
];

describe("a change by another cell makes out of date what was made before", () => {
  it.each(changes)("by %s", (_, made, change) => {
    const said = notices(made, "const n = [r]", change, "n");
    expect(said.slice(0, 3).join("")).toBe("");
    expect(said[3]).toBe(
      "`n` was made by cell [2] from `r` as of [1]; `r` has been changed by [3]: run [2] again.",
    );
  });

  it.each(changes)("and what is made after is up to date, by %s", (_, made, change) => {
    expect(notices(made, change, "const n = [r]", "n", "r").join("")).toBe("");
  });
});

/** What only reads, or only looks like a change. */
const noChanges: readonly (readonly [string, string, string])[] = [
  [
    "a method that gives another list",
    "const r = [1]",
    "r.concat(2); r.toSorted(); r.map((x) => x)",
  ],
  ["a sorted copy", "const r = [1]", "[...r].sort(); r.slice().reverse()"],
  [
    "a data frame that is not changed in place",
    "const r = table()",
    'r.drop({ columns: ["a"], inplace: false })',
  ],
  ["being assigned from", "const r = { k: 1 }", "const o = Object.assign({}, r)"],
  ["being pushed onto another", "const r = [1]", "const o = [0]; o.push(r[0]!)"],
  ["a parameter of the same name", "const r = [1]", "((r: number[]) => r.push(1))([])"],
  ["a local of the same name", "const r = [1]", "{ const r = [2]; r.push(3) }"],
  ["a function that would change it", "const r = [1]", "function grow() { r.push(2) }"],
  ["reading an element", "const r = [1]", "const o = r[0]; console.log(r)"],
];

describe("what changes nothing is not told", () => {
  it.each(noChanges)("such as %s", (_, made, reading) => {
    expect(notices(made, "const n = [r]", reading, "n").join("")).toBe("");
  });

  it("nor what the cell that made the value changes of it, however often it runs", () => {
    const cells = [
      "let xs = f()",
      "const out = []; for (const x of xs) out.push(x); out.sort()",
      "out",
    ];
    expect(notices(...cells, ...cells).join("")).toBe("");
  });

  it("nor a comment's change", () => {
    const before = "function half(x: number) { return x / 2; } // of it\nconst k = 2;";
    const after =
      "function half(x: number) {\n  // by two\n  return x / 2;\n}\nconst k = /* two */ 2;";
    expect(lastOf(before, "const n = half(k)", after, "n")).toBe("");
  });
});

describe("a value that was changed from what has been remade", () => {
  it("names the cell that changed it", () => {
    const cells = ["const xs = f()", "const out: number[] = []", "for (const x of xs) out.push(x)"];
    expect(lastOf(...cells, "const xs = g()", "out")).toBe(
      "`out` was changed by cell [3] from `xs` as of [1]; `xs` has been remade by [4]: run [3] again.",
    );
  });
});
