import { afterEach, describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { kernelArguments, resultOf, textOf, WireClient } from "../support/wire-client.js";

/** Cells without an end. */
const kinds: Readonly<Record<string, string>> = {
  computes: "while (true) {}",
  "computes after an await": "await 1; while (true) {}",
  "computes in a timer":
    "let over = false; setTimeout(() => { while (!over) {} });\n" +
    "try { await new Promise(() => {}); } finally { over = true; }",
  "computes in timers":
    "setInterval(() => { const end = Date.now() + 5; while (Date.now() < end); }, 6); await new Promise(() => {});",
  waits: "await new Promise(() => {});",
  "waits in short turns": "while (true) await new Promise((go) => setTimeout(go, 1));",
  "waits on an iterable":
    "async function* steps() { for (;;) { await 0; yield 1; } }\nfor await (const _ of steps()) {}",
  "catches everything": "for (;;) { try { while (true) {} } catch {} }",
  "catches every await":
    "for (;;) { try { await new Promise((go) => setTimeout(go, 2)) } catch {} }",
  "computes in a promise":
    "Promise.resolve().then(() => { for (;;); }); await new Promise(() => {});",
  "turns in microtasks":
    "const turn = (): void => queueMicrotask(turn); turn(); await new Promise(() => {});",
  "turns in ticks":
    "const tick = (): void => process.nextTick(tick); tick(); await new Promise(() => {});",
  "turns in immediates":
    "const next = (): void => { setImmediate(next) }; next(); await new Promise(() => {});",
  "matches a text": 'for (;;) /^(a+)+$/.test("a".repeat(34) + "b");',
  sorts: "for (;;) Array.from({ length: 1e5 }, () => Math.random()).sort((a, b) => a - b);",
  "writes texts": "for (;;) JSON.stringify(Array.from({ length: 1e5 }, (_, at) => ({ at })));",
  prints: "for (;;) { console.log('walked'); await null; }",
  "hooks into asynchronous work":
    'import { createHook } from "node:async_hooks";\ncreateHook({ init() {}, before() {}, after() {} }).enable();\nawait new Promise((go) => setTimeout(go)); while (true) {}',
  "keeps a context":
    'import { AsyncLocalStorage } from "node:async_hooks";\nconst store = new AsyncLocalStorage();\nawait store.run(1, async () => { await 1; for (;;); });',
  "reads files":
    'import { readFile } from "node:fs/promises";\nfor (;;) await readFile("package.json");',
  "computes in a generator":
    "function* all() { for (;;) yield 1; }\nlet sum = 0; for (const one of all()) sum += one;",
  "shows values":
    "for (let at = 0; ; at++) { display({ at }); await new Promise((go) => setTimeout(go, 2)); }",
};

const names = Object.keys(kinds);
/** More interrupts, and another Node: `INTERRUPTS=80 INTERRUPTED_NODE=…/bin/node`. */
const interrupts = Number(process.env.INTERRUPTS ?? 12);
const node = process.env.INTERRUPTED_NODE ?? process.execPath;
/** Interrupts of one kernel; its first cell is one of them. */
const each = 4;
/** A first cell may wait for the kernel's own start on a busy machine; `INTERRUPTED_WITHIN_MS=500`. */
const patience_ms = Number(process.env.INTERRUPTED_WITHIN_MS ?? 15_000);

function cellOf(name: string, turn: number): string {
  const lines = (kinds[name] as string).split("\n");
  const imports = lines.filter((line) => line.startsWith("import"));
  const rest = lines.filter((line) => !line.startsWith("import"));
  return [...imports, `let turn = ${turn}; console.log("begun");`, "{", ...rest, "}"].join("\n");
}

let client: WireClient | null = null;
afterEach(async () => {
  await client?.stop();
  client = null;
});

describe("interrupts at random moments, first cells included", () => {
  const random = seededRandom(17);
  const rounds = Array.from({ length: Math.ceil(interrupts / each) }, (_, round) =>
    Array.from({ length: each }, (_, turn) => names[(round + turn * 7) % names.length] as string),
  );
  it.each(rounds.map((round) => [round.join("; "), round] as const))(
    "end no kernel whose cells one by one: %s",
    async (_, round) => {
      client = await WireClient.launch({ argv: [node, ...kernelArguments] });
      for (const [turn, name] of round.entries()) {
        const header = await client.start(cellOf(name, turn));
        await client.until(() => client?.of(header).length !== 0);
        await new Promise((go) => setTimeout(go, 100 + 500 * random.uniform()));
        const asked = performance.now();
        await client.onControl("interrupt_request");
        const { reply } = await client.finished(header);
        const took_ms = performance.now() - asked;
        if (process.env.INTERRUPTS) process.stdout.write(`${name}: ${took_ms.toFixed(0)} ms\n`);
        expect({ name, ename: reply.content.ename }).toEqual({ name, ename: "Interrupted" });
        expect(took_ms).toBeLessThan(patience_ms);
        const hasBegun = textOf(client.outputsOf(header)).includes("begun");
        const asking = hasBegun ? "turn" : `${turn}`;
        expect(resultOf(await client.execute(asking))).toBe(`${turn}`);
      }
    },
  );

  it("end a cell that a starting kernel has not come to, count it, and end no other", async () => {
    client = await WireClient.launch({ argv: [node, ...kernelArguments] });
    const first = await client.start("let level = 1; await new Promise(() => {})");
    const next = await client.start("2");
    await client.onControl("interrupt_request");
    const { reply, outputs } = await client.finished(first);
    expect(reply.content).toMatchObject({ ename: "Interrupted", execution_count: 1 });
    expect(outputs.map(({ header }) => header.msg_type)).toEqual(["error"]);
    expect((await client.finished(next)).reply.content.status).toBe("aborted");
    const after = await client.execute("const depth = 3; depth");
    expect(after.reply.content).toMatchObject({ status: "ok", execution_count: 2 });
    expect(resultOf(after)).toBe("3");
  });
});
