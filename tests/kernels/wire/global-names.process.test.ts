import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseNotebook } from "../../../kernels/notebook/read-notebook.js";
import { makeSurvey, writeSurvey } from "../../abroad/index.js";
import { repository, withFolder } from "../support/cells.js";
import { resultOf, WireClient } from "../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

const names = (
  "Array ArrayBuffer Atomics BigInt Boolean Buffer DataView Date Error EvalError Float32Array " +
  "Float64Array Function Infinity Int16Array Int32Array JSON Map Math NaN Number Object Promise " +
  "Proxy RangeError ReferenceError Reflect RegExp Set SharedArrayBuffer String Symbol SyntaxError " +
  "TypeError URL URLSearchParams TextEncoder TextDecoder Uint8Array WeakMap WeakRef WeakSet " +
  "AbortController Event EventTarget clearTimeout setTimeout setImmediate setInterval " +
  "queueMicrotask structuredClone performance process console fetch global parseFloat parseInt " +
  "isNaN encodeURIComponent require window self document define module toString __banquette"
).split(" ");

const kinds: Readonly<Record<string, string>> = {
  let: names.map((name, at) => `let ${name} = ${at};`).join("\n"),
  class: names.map((name, at) => `class ${name} { at = ${at} }`).join("\n"),
  function: names.map((name, at) => `function ${name}() { return ${at} }`).join("\n"),
  import: `import { ${names.map((name) => `sep as ${name}`).join(", ")} } from "node:path";`,
  "an object's pattern": `const { ${names.join(", ")} } = { ${names.map((name, at) => `${name}: ${at}`).join(", ")} };`,
  "a list's pattern": `var [${names.join(", ")}] = [${names.map((_, at) => at).join(", ")}];`,
};

const values: Readonly<Record<string, (at: number) => string>> = {
  let: (at) => `n === ${at}`,
  class: (at) => `new n().at === ${at} && n.name === "n"`,
  function: (at) => `n() === ${at} && n.name === "n"`,
  import: () => `n === "/"`,
  "an object's pattern": (at) => `n === ${at}`,
  "a list's pattern": (at) => `n === ${at}`,
};

async function shown(code: string): Promise<unknown> {
  const ran = await client.execute(code);
  expect({ code, ...ran.reply.content }).toMatchObject({ code, status: "ok" });
  return resultOf(ran);
}

describe("names of globals that cells declare", () => {
  it.each(Object.keys(kinds))("are the cells' own by %s, and nobody else's", async (kind) => {
    await shown(kinds[kind] as string);
    const isRight = names.map((name, at) =>
      `[${(values[kind] as (at: number) => string)(at)}]`.replace(/\bn(?=\b[^"]|$)|"n"/g, (one) =>
        one === "n" ? name : `"${name}"`,
      ),
    );
    const wrong = `[${isRight.join(",\n")}].flatMap(([right], at) => right ? [] : [at])`;
    expect(await shown(wrong)).toBe("[]");
    // What the kernel and V8 do with the globals themselves.
    expect(await shown("[...[3, 1, 2]].sort().map((x) => ({ x }))")).toBe(
      "[ { x: 1 }, { x: 2 }, { x: 3 } ]",
    );
    expect(await shown("await (async () => 5)()")).toBe("5");
  });

  it("keep closures, redeclaration, types and errors as for any other name", async () => {
    await shown("let Map = 1; function count() { Map += 1; return Map }");
    expect(await shown("count(); Map = 7; count()")).toBe("8");
    await shown("let Map = 'eight'");
    expect(await shown("Map.length")).toBe("5");
    const { evalue, traceback } = (await client.execute("(Map as any)()")).reply.content;
    expect(evalue).toBe("Map is not a function");
    expect(traceback).not.toContainEqual(expect.stringContaining("\u034f"));
    const shadowed = "((Map: number) => { const Set = Map + 1; return { Map, Set } })(1)";
    expect(await shown(shadowed)).toBe("{ Map: 1, Set: 2 }");
  });

  it("complete by the type that they were declared with", async () => {
    await shown("class Date { chainage_m = 3 } const when = new Date();");
    const code = "when.chain";
    const { content } = await client.request("complete_request", { code, cursor_pos: code.length });
    expect(content.matches).toEqual(["chainage_m"]);
    const inspected = { code: "Date", cursor_pos: 2, detail_level: 0 };
    const found = await client.request("inspect_request", inspected);
    expect((found.content.data as Record<string, string>)["text/plain"]).toContain("class Date");
  });

  it("leave values made from the global with the global's type", async () => {
    await client.execute("const levels = new globalThis.Map([['gauge', 1.8]]);");
    const other = await WireClient.launch();
    try {
      await other.execute(
        "const levels = new Map([['gauge', 1.8]]); const when = Promise.resolve(1);",
      );
      await other.execute("class Map {} interface Promise { gauge: string }");
      const ran = await other.execute("[levels.get('gauge'), await when.then((x) => x + 1)]");
      expect(resultOf(ran)).toBe("[ 1.8, 2 ]");
    } finally {
      await other.stop();
    }
  });

  it("are the globals still where a cell did not come to declare them", async () => {
    const other = await WireClient.launch();
    try {
      const { reply } = await other.execute("throw new Error('before'); const Map = 3;");
      expect(reply.content.evalue).toBe("before");
      expect(resultOf(await other.execute("new Map([[1, 2]]).size"))).toBe("1");
    } finally {
      await other.stop();
    }
  });

  it("leave the library and the appendix's cells as they are", async () => {
    const { cells } = parseNotebook(
      readFileSync(join(repository, "notebooks/appendix.ipynb"), "utf8"),
      "appendix.ipynb",
    );
    const sources = cells.flatMap((one) => (one.cell_type === "code" ? [one.source] : []));
    await withFolder(async (folder) => {
      const plan = { seed: 3, ground: "blocks", instrument: "three separations HCP, VCP" } as const;
      writeSurvey(makeSurvey({ ...plan, errors: "noise", length_m: 100 }), join(folder, "bank"));
      // Where the appendix means a global itself, it has to say so in such a session.
      const ofGlobals = new RegExp(`(?<![.\\w])(?=(?:${names.join("|")})[.(])`, "g");
      const own = sources.map((source) =>
        source
          .replace(ofGlobals, "globalThis.")
          .replace('"../data-demo/sedgeholm"', JSON.stringify(join(folder, "bank")))
          .replace('"../appendix-out"', JSON.stringify(join(folder, "out"))),
      );
      expect(own[0]).toContain(folder);
      for (const source of own) {
        const { reply } = await client.finished(await client.start(source), 120_000);
        const { status, traceback } = reply.content;
        expect({ source, status, traceback }).toEqual({ source, status: "ok" });
      }
    });
  });
});
