import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { SentOutput } from "../../../../kernels/session/show/outputs.js";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(async () => {
  session = startSession();
  await session.run(
    'import { Matrix } from "ml-matrix"; import { DataFrame } from "danfojs-node";\n' +
      "function grow(list: number[], by = 2) { list.push(by) }\n" +
      "function turned<T>(list: T[]): T[] { return list.reverse() }\n" +
      "class Tally { n = 0; #hidden = 0; add(by: number) { this.n += by; this.#hidden += by; return this.n } }",
  );
});
afterAll(() => session.stop());

function noticeOf(outputs: readonly SentOutput[]): string {
  const notices = outputs.filter(
    (one) => one.output_type === "display_data" && JSON.stringify(one.metadata).includes("lineage"),
  );
  return notices.map((one) => ("data" in one ? String(one.data["text/plain"]) : "")).join("\n");
}

/** Runs cells, as text or as [id, text]; gives each one's notice. Counts begin anew at `[1]`. */
async function notices(...cells: readonly (string | readonly [string, string])[]) {
  const said: string[] = [];
  let first: number | null = null;
  for (const cell of cells) {
    const [cellId, source] = typeof cell === "string" ? [undefined, cell] : cell;
    const { value, outputs } = await session.call(
      "execute",
      source,
      cellId === undefined ? {} : { cellId },
    );
    expect(outputs.filter((one) => one.output_type === "error")).toEqual([]);
    first ??= value.executionCount - 1;
    const from = first;
    said.push(noticeOf(outputs).replace(/\[(\d+)\]/g, (_, count) => `[${Number(count) - from}]`));
  }
  return said;
}

/** [what, cell that makes `r`, cell that changes it]: what was made from `r` before is out of date. */
const unseen: readonly (readonly [string, string, string])[] = [
  ["a function that changes its argument", "const r = [1];", "grow(r);"],
  ["a function that changes a part of its argument", "const r = { rows: [1] };", "grow(r.rows);"],
  ["another name of the same value", "const r = [1]; const again = r;", "again.push(2);"],
  ["what another value holds", "const r = [1]; const all = { r };", "all.r.push(2);"],
  ["what a map holds", "const r = [1]; const kept = new Map([[1, r]]);", "kept.get(1)!.push(2);"],
  ["a function's result", "const r = [1, 2];", "const other = turned(r);"],
  ["a callback that is given it", "const r = [1];", "[r].forEach((one) => one.push(2));"],
  ["a loop over what holds it", "const r = [1];", "for (const one of [r]) one.push(2);"],
  ["a destructured part", "const r = { rows: [1] };", "const { rows } = r; rows.push(2);"],
  ["a method of a class of cells", "const r = new Tally();", "r.add(1);"],
  ["a matrix in place", "const r = Matrix.ones(2, 2);", "r.mul(3);"],
  [
    "a data frame in place",
    "const r = new DataFrame({ a: [1, 2] });",
    'r.addColumn("b", [3, 4], { ["in" + "place"]: true } as { inplace: true });',
  ],
  ["a typed array's part", "const r = new Float64Array(4);", "r.subarray(1).fill(2);"],
  ["a buffer's other view", "const r = new Float64Array(4);", "new Uint8Array(r.buffer)[3] = 2;"],
  ["a date", "const r = new Date(0);", "r.setFullYear(2031);"],
  ["a set through an alias", "const r = new Set([1]); const view = r;", "view.add(2);"],
  ["structured parts of rows", "const r = [{ k: 1 }];", "r.forEach((row) => { row.k = 2 });"],
  ["Array.prototype's own method", "const r = [1];", "Array.prototype.push.call(r, 2);"],
  ["a stored function", "let r = 1; const does = [() => { r += 1 }];", "does[0]!();"],
  ["a name worked out", "const r = { k: 1 };", "Object.defineProperties(r, { k: { value: 3 } });"],
];

describe("a change that does not show in the cell's text", () => {
  it.each(unseen)("is told of what was made before: %s", async (_, made, change) => {
    const said = await notices(made, "const n = JSON.stringify(r);", change, "n;");
    expect(said.slice(0, 3).join("")).toBe("");
    expect(said[3]).toBe(
      "`n` was made by cell [2] from `r` as of [1]; `r` has been changed by [3]: run [2] again.",
    );
  });

  it.each(unseen)("is no news to what is made after: %s", async (_, made, change) => {
    const said = await notices(made, change, "const n = JSON.stringify(r);", "n;", "r;");
    expect(said.join("")).toBe("");
  });

  it("is a change from what its statement read", async () => {
    const said = await notices(
      "let by = [2];",
      "const r = [1];",
      "grow(r, by[0]);",
      "by = [3];",
      "r;",
    );
    expect(said[4]).toBe(
      "`r` was changed by cell [3] from `by` as of [1]; `by` has been remade by [4]: run [3] again.",
    );
  });

  it("counts up to a throw", async () => {
    await session.run("const r = [1];", "const n = r.length;", 'grow(r); throw new Error("stop")');
    expect((await notices("n;"))[0]).toContain("`r` has been changed by");
  });
});

/** What leaves the value as it was, or is the same value under another name. */
const unchanged: readonly (readonly [string, readonly string[], string])[] = [
  [
    "a function that only reads",
    ["const r = [1];", "const n = r.length;", "turned([...r]);"],
    "n;",
  ],
  ["what is undone", ["const r = [1];", "const n = r.length;", "grow(r), r.length = 1;"], "grow;"],
  ["another name", ["const r = [1];", "const n = r;", "grow(r);"], "n;"],
  ["another name that changes it", ["const r = [1];", "const n = r;", "n.push(2);"], "n; r;"],
  ["what holds it", ["const r = [1];", "const n = { r };", "grow(r);"], "n;"],
  ["a list that holds it", ["const r = [1];", "const n = [r, [0]];", "r.push(1);"], "n;"],
  ["its own cell's changes", ["const r = [1]; grow(r);", "const n = r.length;"], "n; r;"],
  [
    "a cache in an instance of a package",
    ["const r = new URL('wend:x');", "const n = r.href;", "r.searchParams;"],
    "n;",
  ],
  ["a function asked for its name", ["const r = [1];", "const n = r.length;", "grow.name;"], "n;"],
  ["showing it", ["const r = [1];", "const n = r.length;", "display(r); console.log(r);"], "n;"],
  ["JSON of it", ["const r = { k: [1] };", "const n = r.k;", "JSON.stringify(r);"], "n;"],
  [
    "copies of it",
    ["const r = [3, 1];", "const n = r[0];", "[...r].sort(); structuredClone(r).pop();"],
    "n;",
  ],
];

describe("what is no change of the value", () => {
  it.each(unchanged)("is not told: %s", async (_, cells, last) => {
    expect((await notices(...cells, last)).join("")).toBe("");
  });
});

describe("a cell that runs again", () => {
  it("is told at once that its change adds to that of its earlier run", async () => {
    const said = await notices(
      ["a", "const r = [1];"],
      ["b", "grow(r);"],
      ["b", "grow(r);"],
      ["c", "r;"],
    );
    const text =
      "`r` was changed by [2] and again by [3], runs of one cell: run [1], then [3] again.";
    expect(said).toEqual(["", "", text, text]);
  });

  it("tells what was made from such a value", async () => {
    const said = await notices(
      ["a", "let r = 1;"],
      ["b", "r += 2;"],
      ["b", "r += 2;"],
      ["c", "const n = r;"],
      ["d", "n;"],
    );
    expect(said[4]).toBe(
      "`n` was made by cell [4] from `r` as of [3]; `r` was changed by [2] and again by [3], runs of " +
        "one cell: run [1], then [3], then [4] again.",
    );
  });

  it("tells what it made from a value before it changed that again", async () => {
    const said = await notices(
      ["a", "const r = { k: 1 };"],
      ["b", "const n = r.k; r.k = 7;"],
      ["b", "const n = r.k; r.k = 7;"],
      ["c", "n;"],
      ["d", "r;"],
    );
    expect(said[3]).toContain("`r` held then what two runs of one cell had done to it");
    expect(said[4]).toBe("");
  });

  it("tells what an earlier text of it did and the later one does no more", async () => {
    const said = await notices(
      ["a", "const r = [1];"],
      ["b", "grow(r);"],
      ["b", "0;"],
      ["c", "r;"],
    );
    expect(said[3]).toBe(
      "`r` was changed by [2], an earlier run of a cell that has gone or does so no more: run [1] again.",
    );
  });

  it("tells what a deleted cell did", async () => {
    await notices(["gone a", "const r = [1];"], ["gone b", "grow(r);"]);
    await session.call("cellsDeleted", ["gone b"]);
    expect((await notices(["c", "r;"]))[0]).toContain("a cell that has gone");
  });

  it("is in order again once the maker and the changer have run", async () => {
    const cells = [
      ["a", "const r = [1];"],
      ["b", "grow(r);"],
    ] as const;
    expect((await notices(...cells, ...cells, ...cells, ["c", "r;"])).join("")).toBe("");
  });

  const again: readonly (readonly [string, string, string])[] = [
    ["sets a part to the same", "const r = { k: 1 };", "r.k = 7;"],
    ["sets a part to something else", "let x = [7]; const r = { k: 1 };", "r.k = x[0]!;"],
    ["sets an element", "const r = [1];", "r[0] = 7;"],
    ["sorts what is sorted", "const r = [2, 1];", "r.sort();"],
    ["only reads", "const r = [2, 1];", "r.length;"],
    ["fills", "const r = new Float64Array(9);", "r.fill(2);"],
    ["assigns another value", "let r = [1];", "r = [2];"],
  ];
  it.each(again)("is not told where it %s", async (_, made, change) => {
    const said = await notices(["a", made], ["b", change], ["b", change], ["c", "r;"]);
    expect(said.join("")).toBe("");
  });

  it("is told of a generator whose state it moves on", async () => {
    const said = await notices(
      [
        "a",
        "let state = 7; function drawn() { state = (state * 16807) % 2147483647; return state }",
      ],
      ["b", "const r = drawn();"],
      ["b", "const r = drawn();"],
      ["c", "r;"],
    );
    expect(said[2]).toContain("`state` was changed by [2] and again by [3]");
    expect(said[3]).toContain("`r` was made by cell [3] from `state` as of [2]; `state` held then");
  });
});
