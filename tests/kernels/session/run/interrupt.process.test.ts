import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(() => {
  session = startSession();
});
afterAll(() => session.stop());

const pause = (time_ms: number) => new Promise((resolve) => setTimeout(resolve, time_ms));

async function interrupted(source: string) {
  const running = session.call("execute", source);
  await pause(300);
  const before = Date.now();
  expect((await session.call("interrupt")).value).toBe(true);
  const { value } = await running;
  return { ...value, took_ms: Date.now() - before };
}

const waiting: Readonly<Record<string, string>> = {
  "a promise that never settles": "await new Promise(() => {})",
  "a function that never returns":
    "async function never() { await new Promise(() => {}) }\nawait never()",
  "for await":
    "for await (const x of { async *[Symbol.asyncIterator]() { yield 1; await new Promise(() => {}) } }) {}",
  "a result that never comes": "new Promise(() => {})",
  "a display that never comes": "display(new Promise(() => {}));",
  "a cell that catches everything":
    "try { await new Promise(() => {}) } catch { while (true) await null }",
  "a cell that catches everything, again and again":
    "for (;;) { try { await new Promise(() => {}) } catch {} }",
  "for await that is caught again and again":
    "for (;;) { try { for await (const x of [new Promise(() => {})]) {} } catch {} }",
};

describe("an interrupt ends", () => {
  for (const [what, source] of Object.entries(waiting)) {
    it(`${what}, and keeps all state`, async () => {
      await session.run("let state = 1;");
      const { ok, error, took_ms } = await interrupted(`state = 2;\n${source}`);
      expect(ok).toBe(false);
      expect(error?.ename).toBe("Interrupted");
      expect(error?.traceback.join("\n")).not.toContain("session");
      // Asked for: under 1 s.
      expect(took_ms).toBeLessThan(1000);
      expect(await session.run("state")).toMatchObject([{ data: { "text/plain": "2" } }]);
    });
  }

  it("the whole cell: what stands below the await does not run later", async () => {
    await session.run("let late = 1;");
    await interrupted("await new Promise((go) => setTimeout(go, 700));\nlate = 2;");
    await pause(700);
    expect(await session.run("late")).toMatchObject([{ data: { "text/plain": "1" } }]);
  });

  it("a cell that catches everything for good: it does nothing more", async () => {
    await session.run("let rounds = 0;");
    await interrupted("for (;;) { try { rounds += 1; await new Promise(() => {}) } catch {} }");
    const [first] = await session.run("rounds");
    await pause(200);
    expect(await session.run("rounds")).toMatchObject([
      { data: (first as { readonly data: object }).data },
    ]);
  });

  it("a cell only after it has cleaned up", async () => {
    await session.run("const cleaned: string[] = [];");
    await interrupted(
      "try { try { await new Promise(() => {}) } finally { await cleaned.push('inner') } }\n" +
        "finally { cleaned.push('outer') }",
    );
    expect(await session.run("cleaned.join()")).toMatchObject([
      { data: { "text/plain": "'inner,outer'" } },
    ]);
  });

  it("nothing where nothing runs", async () => {
    expect((await session.call("interrupt")).value).toBe(false);
    expect(await session.run("1")).toMatchObject([{ data: { "text/plain": "1" } }]);
  });
});

describe("an execution", () => {
  it("that is silent shows no result and does not count", async () => {
    const { value: before } = await session.call("execute", "0");
    const { value, outputs } = await session.call("execute", "5", { silent: true });
    expect(outputs).toEqual([]);
    expect(value).toEqual({ ok: true, executionCount: before.executionCount });
    const { value: after } = await session.call("execute", "0");
    expect(after.executionCount).toBe(before.executionCount + 1);
  });

  it("without history shows its result and does not count", async () => {
    const { value: before } = await session.call("execute", "0");
    const { outputs } = await session.call("execute", "5", { storeHistory: false });
    expect(outputs).toMatchObject([
      { data: { "text/plain": "5" }, execution_count: before.executionCount },
    ]);
  });

  it("of an expression gives its bundle or its error, and shows nothing", async () => {
    const good = await session.call("expression", "1 + 1");
    expect(good).toMatchObject({ outputs: [], value: { ok: true, data: { "text/plain": "2" } } });
    const bad = await session.call("expression", "nowhere");
    expect(bad).toMatchObject({ outputs: [], value: { ok: false } });
  });
});
