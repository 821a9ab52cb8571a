import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { resultOf, textOf, WireClient } from "../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

const closing = (name: string) => `{ [Symbol.dispose]() { console.log("${name} closed") } }`;
const closingLater = (name: string) =>
  `{ async [Symbol.asyncDispose]() { await null; console.log("${name} closed") } }`;

/** Cells with what they show, or the type error that keeps them from running. */
const cells: readonly (readonly [cell: string, shown: string | RegExp])[] = [
  ["[3, null, 4].filter((x) => x !== null).map((x) => x.toFixed(1))", "[ '3.0', '4.0' ]"],
  ["const isWet = (x: string | number) => typeof x === 'number'; 1", "1"],
  [
    "const level: string | number = JSON.parse('2'); isWet(level) ? level.toFixed(1) : 'dry'",
    "'2.0'",
  ],
  [
    "function pick<T extends string>(all: T[], one: NoInfer<T>) { return one } pick(['a'], 'a')",
    "'a'",
  ],
  ["pick(['a'], 'b')", /^Argument of type '"b"' is not assignable/],
  ["const firm = { top_m: 1 } satisfies Record<string, number>; firm.top_m", "1"],
  ["new Set(['clay', 'sand']).union(new Set(['peat']))", "Set(3) { 'clay', 'sand', 'peat' }"],
  ["new Set([1, 2, 3]).difference(new Set([2])).size", "2"],
  ["new Set([1]).isSubsetOf([1])", /^Argument of type 'number\[\]' is not assignable/],
  ["const by = Object.groupBy([1, 2, 3], (x) => (x % 2 ? 'odd' : 'even')); by.odd?.length", "2"],
  ["by.others", /^Property 'others' does not exist/],
  ["Map.groupBy([1, 2, 3], (x) => x > 1).get(true)", "[ 2, 3 ]"],
  ["async function* walk() { yield 1; yield 2 }\n(await Array.fromAsync(walk())).length", "2"],
  ["const { promise, resolve } = Promise.withResolvers<number>(); resolve(4); await promise", "4"],
  ["class Peg { accessor at_m = 3; static #made = 0 } new Peg().at_m", "3"],
  [
    "Array.fromAsync.name + Set.prototype.union.name + Object.keys(Set.prototype)",
    "'fromAsyncunion'",
  ],
];

describe("current TypeScript and JavaScript, typed and run", () => {
  it.each(cells)("%s", async (cell, shown) => {
    const ran = await client.execute(cell);
    if (typeof shown === "string") expect(resultOf(ran)).toBe(shown);
    else expect(ran.reply.content).toMatchObject({ ename: "TypeCheckError", evalue: shown });
  });

  it("says which Node has what this one lacks", async () => {
    const { reply } = await client.execute("[1].values().map(String).toArray()");
    if (Number.parseInt(process.versions.node, 10) >= 22) expect(reply.content.status).toBe("ok");
    else expect(reply.content.evalue).toMatch(/'ArrayIterator<number>'; it came with Node 22/);
  });
});

describe("using", () => {
  it.each([
    [
      "at the end of a cell, the last one first",
      `using a = ${closing("a")}, b = ${closing("b")};\nconsole.log("in")`,
      "in\nb closed\na closed\n",
    ],
    [
      "after waiting, with await",
      `await using a = ${closingLater("a")};\nconsole.log("in")`,
      "in\na closed\n",
    ],
    [
      "at the end of a block",
      `{ using a = ${closing("a")}; console.log("in") }\nconsole.log("out")`,
      "in\na closed\nout\n",
    ],
    [
      "in each turn of a loop",
      `for (await using a of [${closingLater("a")}]) console.log("in");\nconsole.log("out")`,
      "in\na closed\nout\n",
    ],
    [
      "at the end of a function",
      `function f() { using a = ${closing("a")}; console.log("in") }\nf(); console.log("out")`,
      "in\na closed\nout\n",
    ],
    [
      "not at all where it is null",
      `using a = null as Disposable | null;\nconsole.log(a)`,
      "null\n",
    ],
  ])("disposes %s", async (_, cell, text) => {
    const { reply, outputs } = await client.execute(cell);
    expect(reply.content.status).toBe("ok");
    expect(textOf(outputs)).toBe(text);
  });

  it("disposes when the cell throws, and tells both errors", async () => {
    const closingBadly = "{ [Symbol.dispose]() { throw new Error('cannot close') } }";
    const ran = await client.execute(
      `using a = ${closing("a")};\nusing b = ${closingBadly};\nthrow new Error("no level")`,
    );
    expect(textOf(ran.outputs)).toContain("a closed");
    expect(ran.reply.content.ename).toBe("SuppressedError");
    const told = (ran.reply.content.traceback as string[]).join("\n");
    expect(told).toContain("cannot close");
    expect(told).toContain("no level");
    expect(told).toContain("line 3");
  });

  it("disposes when the cell is interrupted, and shows the value of the last expression", async () => {
    const header = await client.start(
      `using a = ${closing("a")};\nconsole.log("in");\nawait new Promise(() => {})`,
    );
    await client.until(() => textOf(client.outputsOf(header)).includes("in"));
    await client.onControl("interrupt_request");
    const { reply, outputs } = await client.finished(header);
    expect(reply.content.ename).toBe("Interrupted");
    expect(textOf(outputs)).toContain("a closed");
    expect(resultOf(await client.execute(`using b = ${closing("b")};\n6 * 7`))).toBe("42");
  });

  it("refuses what cannot be disposed of", async () => {
    const { reply } = await client.execute("using a = 3");
    expect(reply.content.evalue).toMatch(
      /must be either an object with a '\[Symbol.dispose\]\(\)'/,
    );
    const unchecked = await client.execute("// unchecked\nusing a = {};");
    expect(unchecked.reply.content.evalue).toContain("must have a method Symbol.dispose");
  });
});
