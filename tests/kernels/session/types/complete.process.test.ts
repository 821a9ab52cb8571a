import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(async () => {
  session = startSession();
  await session.run(
    "/** Doubles.\n * @param x a value\n * @example twice(2) // 4\n */\nfunction twice(x: number) { return 2 * x }",
    "const wendé = 3; const layers = { top_m: 1, 'be ta': 2, total_m: 3 };",
    'import { correctDrift } from "banquette"',
    'type Model = "layers" | "two words"; function pick(m: Model, o?: { kind?: "a" | "b"; n?: number }) { return m }',
  );
});
afterAll(() => session.stop());

/** The last `|` marks the cursor. */
function placed(marked: string): [code: string, cursor: number] {
  const cursor = marked.lastIndexOf("|");
  return [marked.slice(0, cursor) + marked.slice(cursor + 1), cursor];
}

async function completed(marked: string) {
  return (await session.call("complete", ...placed(marked))).value;
}

async function inspected(marked: string) {
  return (await session.call("inspect", ...placed(marked))).value;
}

const completions: readonly (readonly [string, readonly string[]])[] = [
  ["tw|", ["twice"]],
  ["layers.|", ["top_m", "total_m"]],
  ["layers.to|", ["top_m", "total_m"]],
  ["layers.to|p_m", ["top_m", "total_m"]],
  ["console.lo|", ["log"]],
  ["wen|", ["wendé"]],
  ["wendé|", ["wendé"]],
  ['"𝛼𝛽"; layers.tot|', ["total_m"]],
  ['import { correctD| } from "banquette"', ["correctDrift"]],
  ["#| label: fig-x\nlayers.tot|", ["total_m"]],
  ['import { parse } from "papap|', ["papaparse"]],
  ['import { join } from "node:path/wi|', ["win32"]],
  ["await import('@biomejs/bio|')", ["biome"]],
  ['import x from "banq|"', ["banquette"]],
  ['import x from "./lib/ind|"', ["index.ts"]],
  ['openSurvey("data-demo/gen|', ["generator/"]],
  ['const a = "x" + layers.tot|', ["total_m"]],
  ["// tw|", []],
  ['pick("|', ["layers", "two words"]],
  ['pick("two w|")', ["two words"]],
  ['pick("layers", { kind: "|', ["a", "b"]],
  ['pick("layers", { kind: "b|" })', ["b"]],
  ['pick("layers", { k|', ["kind"]],
  ['const m: Model = "|"', ["layers", "two words"]],
  ['if (pick("layers") === "la|', ["layers"]],
  ["maskInterf|", ["maskInterference"]],
  ["layers.maskInterf|", []],
  ["// maskInterf|", []],
  ["nothingHere.x|", []],
];

describe("completion", () => {
  for (const [marked, matches] of completions) {
    it(`of ${JSON.stringify(marked)} gives ${matches.join(", ") || "nothing"}`, async () => {
      const found = await completed(marked);
      expect(found.matches).toEqual(matches);
      expect(found.cursorEnd).toBe(placed(marked)[1]);
    });
  }

  it("gives only what begins with what is typed, at any cursor", async () => {
    const code = "const s = [1, 2].map((v) => twice(v)).length; layers.top_m.toFixed(1)";
    for (let cursor = -1; cursor <= code.length + 1; cursor += 3) {
      const { value } = await session.call("complete", code, cursor);
      const typed = code.slice(value.cursorStart, value.cursorEnd);
      for (const match of value.matches) expect(match.startsWith(typed)).toBe(true);
    }
  });

  it("tells what kind of thing each match is", async () => {
    const { metadata } = await completed("tw|");
    expect(metadata._jupyter_types_experimental).toEqual([
      { text: "twice", type: "function", start: 0, end: 2 },
    ]);
  });
});

describe("completion of imported names", () => {
  const kinds = async (marked: string) => {
    const { metadata } = await completed(marked);
    return Object.fromEntries(metadata._jupyter_types_experimental.map((m) => [m.text, m.type]));
  };

  it("tells what each is, in the cell of the import and after it", async () => {
    const imports = [
      'import { readFileSync, constants as flags, Stats } from "node:fs";',
      'import * as path from "node:path";',
      'import { correctDrift } from "banquette";',
    ].join("\n");
    await session.run(imports);
    for (const head of ["", `${imports}\n`]) {
      expect(await kinds(`${head}readFileS|`)).toEqual({ readFileSync: "function" });
      expect(await kinds(`${head}correctDr|`)).toMatchObject({ correctDrift: "function" });
      expect(await kinds(`${head}fla|`)).toEqual({ flags: "module" });
      expect(await kinds(`${head}Stat|`)).toMatchObject({ Stats: "class" });
      expect(await kinds(`${head}pat|`)).toEqual({ path: "instance" });
      expect(await kinds(`${head}path.joi|`)).toEqual({ join: "function" });
    }
  });

  it("tells what each export is of a module that hands on from others", async () => {
    const code = 'import * as bank from "banquette";\nbank.correctDr|';
    expect(await kinds(code)).toMatchObject({ correctDrift: "function" });
  });
});

describe("inspection", () => {
  it("gives signature and documentation, as markdown and plain", async () => {
    const { found, data } = await inspected("tw|ice(3)");
    expect(found).toBe(true);
    expect(data["text/plain"]).toBe(
      "function twice(x: number): number\n\nDoubles.\n\n@param x a value\n\n@example twice(2) // 4",
    );
    expect(data["text/markdown"]).toContain(
      "```typescript\nfunction twice(x: number): number\n```\n\nDoubles.",
    );
  });

  it("looks before the cursor and at the call around it", async () => {
    for (const marked of ["twice|", "twice(|", "twice(3,|", "twice( 1 + |)", "twice(Math.PI, |)"]) {
      expect((await inspected(marked)).data["text/plain"], marked).toContain("Doubles.");
    }
  });

  it("looks at the call around the cursor while it is not closed", async () => {
    const opened = [
      "pick( |",
      'pick("layers", |',
      "pick(|",
      'if (pick("layers", { kind: |',
      "pick(\n  |",
    ];
    for (const marked of opened) {
      expect((await inspected(marked)).data["text/plain"], marked).toMatch(/^function pick\(/);
    }
  });

  it("gives a name of the library that is not imported yet, with its import", async () => {
    const { data } = await inspected("maskInterference|");
    expect(data["text/plain"]).toContain("function maskInterference(");
    expect(data["text/plain"]).toContain(
      'Not imported here yet: import { maskInterference } from "banquette";',
    );
  });

  it("does not know a name that nothing declares", async () => {
    for (const marked of ["nowhere|", "nowhere|.x", "nowhere(|"]) {
      expect(await inspected(marked), marked).toEqual({ found: false, data: {} });
    }
  });

  it("has the documentation of our own library", async () => {
    const { data } = await inspected("correctDrift(|");
    expect(data["text/plain"]).toContain("StepResult<DriftCorrected>");
    expect(data["text/plain"]).toContain("Removes the drift of the instrument");
    expect(data["text/plain"]).toMatch(
      /Options of correctDrift:\n(.*\n)*evidence: a number above 0; default 2\. With the average/,
    );
  });

  it("adds a function's own text where more is asked for", async () => {
    const { value } = await session.call("inspect", "twice", 5, 1);
    expect(value.data["text/plain"]).toContain("{ return 2 * x }");
    expect((await inspected("twice|")).data["text/plain"]).not.toContain("return");
  });

  it("finds nothing where nothing stands", async () => {
    for (const marked of ["  | ", "|", "1 + |2", "// twi|ce"]) {
      expect(await inspected(marked), marked).toEqual({ found: false, data: {} });
    }
  });
});

const statuses: readonly (readonly [string, string, string?])[] = [
  ["", "complete"],
  ["1 + 1", "complete"],
  ["await x", "complete"],
  ["function f() {\n}", "complete"],
  ["#| label: fig-x\n2", "complete"],
  ["'a string' // a remark", "complete"],
  ["function f() {", "incomplete", "  "],
  ["for (const a of b) {\n  call(", "incomplete", "    "],
  ["for (const a of b) {\n  call()", "incomplete", "  "],
  ["const a =", "incomplete", "  "],
  ["1 +", "incomplete", "  "],
  ["x.", "incomplete", ""],
  ["if (a)", "incomplete", ""],
  ["`two\nlines", "incomplete", ""],
  ["/* a remark", "incomplete", ""],
  ["interface A {", "incomplete", "  "],
  ["'abc\\", "incomplete", ""],
  ["'abc", "invalid"],
  ["let x = ;", "invalid"],
  [")", "invalid"],
  ["const = 4\nfunction f() {", "invalid"],
  ["class 3 {}", "invalid"],
];

describe("whether a cell is complete", () => {
  for (const [code, status, indent] of statuses) {
    it(`is ${status} for ${JSON.stringify(code)}`, async () => {
      const { value } = await session.call("isComplete", code);
      expect(value).toEqual(indent === undefined ? { status } : { status, indent });
    });
  }
});
