import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { resultOf, WireClient } from "../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

const figure =
  '{ data: { values: [{ x: 1 }] }, mark: "point", encoding: { x: { field: "x", type: "quantitative" } } }';
const floods: Readonly<Record<string, string>> = {
  "displays numbers": "for (let at = 0; ; at++) display(at);",
  "displays objects after an await": "await 1; for (let at = 0; ; at++) display({ at });",
  "displays bundles": 'for (;;) display({ "text/html": "<b>" + "x".repeat(9999) + "</b>" });',
  "displays figures": `for (;;) display(${figure});`,
  "displays what shows itself":
    'for (;;) display({ [Symbol.for("Jupyter.display")]: () => ({ "text/plain": "one" }) });',
  "updates one display": "const shown = display(0); for (let at = 0; ; at++) shown.update(at);",
  "clears and displays": "for (let at = 0; ; at++) { clearOutput(true); display(at); }",
  "prints lines": "for (let at = 0; ; at++) console.log(at);",
  "prints long lines": 'for (;;) console.log("x".repeat(1e5));',
};
/** An interrupt on a busy machine; `INTERRUPTED_WITHIN_MS=500`. */
const patience_ms = Number(process.env.INTERRUPTED_WITHIN_MS ?? 15_000);
/**
 * What the process may hold after a flood, MB: the compiler takes 300 of it, and garbage of the flood
 * may not be collected yet (728 seen). Nine floods that were held whole would be several thousand.
 */
const memory_MB = 1000;

describe("a cell that shows without end", () => {
  it.each(Object.entries(floods))(
    "is interrupted, and the next one answers: %s",
    async (name, code) => {
      const header = await client.start(`{ ${code} }`);
      await client.until(() => client.of(header).length > 1);
      await new Promise((go) => setTimeout(go, 1500));
      const asked = performance.now();
      await client.onControl("interrupt_request");
      const { reply } = await client.finished(header);
      const took_ms = performance.now() - asked;
      if (process.env.INTERRUPTS) process.stdout.write(`${name}: ${took_ms.toFixed(0)} ms\n`);
      expect(reply.content.ename).toBe("Interrupted");
      expect(took_ms).toBeLessThan(patience_ms);
      const next = await client.execute("Math.round(process.memoryUsage().rss / 1e6)");
      expect(Number(resultOf(next))).toBeLessThan(memory_MB);
      client.published.length = 0;
    },
  );

  it("shows all of what ends, in its order", async () => {
    const { outputs } = await client.execute("for (let at = 0; at < 3000; at++) display(at);");
    const texts = outputs.map(
      ({ content }) => (content.data as Record<string, string>)["text/plain"],
    );
    expect(texts).toEqual(Array.from({ length: 3000 }, (_, at) => `${at}`));
  });
});

describe("process.exit and process.abort", () => {
  it.each(["process.exit(3)", "process.abort()"])(
    "end the cell and not the kernel: %s",
    async (call) => {
      await client.execute("let kept = 7;");
      const { reply } = await client.execute(call);
      expect(reply.content).toMatchObject({
        ename: "ExitRefused",
        evalue: expect.stringContaining(`${call} would end the kernel`),
      });
      expect(resultOf(await client.execute("kept"))).toBe("7");
    },
  );
});
