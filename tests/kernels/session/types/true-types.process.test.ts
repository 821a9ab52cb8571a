import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Content } from "../../../../kernels/wire/messages.js";
import { resultOf, WireClient } from "../../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

/** What the cell is told at its top about functions of other cells; then it has run. */
async function told(code: string): Promise<string> {
  const { reply, outputs } = await client.execute(code);
  expect({ code, ...reply.content }).toMatchObject({ code, status: "ok" });
  return outputs
    .filter(({ content }) => (content.metadata as Content | undefined)?.banquette !== undefined)
    .map(({ content }) => (content.data as Content)["text/plain"])
    .join("\n");
}

async function fault(code: string): Promise<unknown> {
  return (await client.execute(code)).reply.content.evalue;
}

async function shown(code: string): Promise<unknown> {
  const ran = await client.execute(code);
  expect({ code, ...ran.reply.content }).toMatchObject({ code, status: "ok" });
  return resultOf(ran);
}

describe("a name of another type from now on", () => {
  it("is told of the functions that it no longer fits", async () => {
    await told("let fac = 2; const mul = (x: number) => x * fac;");
    expect(await told('let fac = "two";')).toMatch(
      /^`mul` of cell \[1\] no longer fits `fac`, of another type from this cell on: .*arithmetic/,
    );
    expect(await told("let fac = 3;")).toBe("");
    expect(await shown("mul(3)")).toBe("9");
  });

  it("is followed through the functions that only hand it on", async () => {
    await told(
      "function half(x: number) { return x / 2 }\nconst g = () => half(3);\n" +
        "const h = () => g() * 2;\nconst again = () => [g()];",
    );
    expect(await told('function half(x: number) { return "half of " + x }')).toMatch(
      /^`h` of cell/,
    );
    expect(await shown("again().map((text) => text.length)")).toBe("[ 9 ]");
  });

  it("is followed into methods and object literals", async () => {
    await told(
      "let unit = 2;\nclass Level { top() { return unit * 2 } }\nconst tools = { twice() { return unit * 2 } };",
    );
    const text = await told('let unit = "m";');
    expect(text).toContain("`Level` of cell");
    expect(text).toContain("`tools` of cell");
  });

  it.each([
    ["of the same type", "const limit = 3; const isIt = () => limit === 3;", "const limit = 4;"],
    ["that still fits", "let rows = [1]; const size = () => rows.length;", 'let rows = ["a"];'],
    ["that nothing uses", "let spare = 1;", 'let spare = "one";'],
    [
      "of a cell that never passed",
      "// unchecked\nlet odd = 1; const wrong = () => odd.length;",
      "let odd = true;",
    ],
    [
      "for functions of its own cell",
      "let x1 = 1; const f1 = () => x1 * 2;",
      'let x1 = "a"; const f1 = () => x1.length;',
    ],
  ])("says nothing %s", async (_, before, after) => {
    await told(before);
    expect(await told(after)).toBe("");
  });
});

describe("a type that is declared anew", () => {
  it("leaves values and functions the type that they were made with", async () => {
    await told(
      "type Reading = { v: number };\nfunction top(r: Reading) { return r.v }\nconst first: Reading = { v: 2 };",
    );
    await told("type Reading = { value: number };\nconst second: Reading = { value: 3 };");
    expect(await shown("top(first) + second.value")).toBe("5");
    expect(await fault("top(second)")).toContain("'earlier Reading'");
    expect(await fault("const third: Reading = first;")).toContain("'earlier Reading'");
    await told("function top(r: Reading) { return r.value }");
    expect(await shown("top(second)")).toBe("3");
  });

  it("holds for interfaces and classes; one of the same text is the same", async () => {
    const cell = "class Gauge { #level = 1; zero_m = 2 }\ninterface Peg { at_m: number }";
    await told(`${cell}\nconst gauge = new Gauge();\nconst zero = (one: Gauge) => one.zero_m;`);
    await told(cell);
    expect(await shown("zero(gauge) + zero(new Gauge())")).toBe("4");
    await told("const peg: Peg = { at_m: 1 };");
    await told("interface Peg { chainage_m: number }\nclass Gauge { zero_mm = 2000 }");
    expect(await shown("peg.at_m + gauge.zero_m")).toBe("3");
    expect(await fault("peg.chainage_m")).toContain("'earlier Peg'");
    expect(await fault("zero(new Gauge())")).toContain("'earlier Gauge'");
  });

  it("shows its earlier name in inspection, and never completes it", async () => {
    await told("interface Kind { clay: number }\nconst kindOf = (kind: Kind) => kind.clay;");
    await told("interface Kind { sand: number }");
    const { content } = await client.request("inspect_request", {
      code: "kindOf",
      cursor_pos: 3,
      detail_level: 0,
    });
    expect((content.data as Content)["text/plain"]).toContain("earlier Kind");
    const completing = { code: "let a: Kin", cursor_pos: 10 };
    const { content: given } = await client.request("complete_request", completing);
    expect(given.matches).toEqual(["Kind"]);
  });
});
