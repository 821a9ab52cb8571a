import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { murmur2 } from "../../../../kernels/wire/debug/murmur2.js";
import type { Content, Header } from "../../../../kernels/wire/messages.js";
import { resultOf, WireClient } from "../../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

let seq = 0;
/** The body of the answer; throws where it is refused. */
async function ask<Body = Content>(command: string, given: Content = {}): Promise<Body> {
  seq += 1;
  const request = { type: "request", seq, command, arguments: given };
  const { content, header } = await client.onControl("debug_request", request);
  expect(header.msg_type).toBe("debug_reply");
  expect(content).toMatchObject({ type: "response", request_seq: seq, command });
  if (content.success !== true) throw new Error(String(content.message));
  return content.body as Body;
}

const events = (name: string) =>
  client.published.filter(
    ({ header, content }) => header.msg_type === "debug_event" && content.event === name,
  );

/** Does something and waits until a cell is paused after it. */
async function paused(work: () => Promise<unknown>): Promise<void> {
  const before = events("stopped").length;
  await work();
  await client.until(() => events("stopped").length > before);
}

interface Frame {
  readonly id: number;
  readonly name: string;
  readonly line: number;
  readonly source: { readonly path: string };
}

const frames = async () =>
  (await ask<{ readonly stackFrames: readonly Frame[] }>("stackTrace", { threadId: 1 }))
    .stackFrames;

/** The variables of the innermost frame, by scope. */
async function variables(): Promise<Record<string, Record<string, string>>> {
  const [top] = await frames();
  const { scopes } = await ask<{ scopes: { name: string; variablesReference: number }[] }>(
    "scopes",
    { frameId: top?.id },
  );
  const shown: Record<string, Record<string, string>> = {};
  for (const { name, variablesReference } of scopes) {
    const { variables: found } = await ask<{ variables: { name: string; value: string }[] }>(
      "variables",
      { variablesReference },
    );
    shown[name] = Object.fromEntries(found.map((one) => [one.name, one.value]));
  }
  return shown;
}

const cell = `import { join } from "node:path";
// The mean of readings, with a type that is not there when it runs.
function mean(readings: readonly number[]): number {
  let sum = 0;

  for (const one of readings) sum += one;
  return sum / readings.length;
}
const walked = [31, 35, 36];
const first: number = mean(walked);
await new Promise<void>((go) => setTimeout(go, 5));
const label = \`\${join("a", "b")} \${first}\`;
label`;

async function breakpointsAt(code: string, ...lines: readonly number[]): Promise<string> {
  const { sourcePath } = await ask<{ readonly sourcePath: string }>("dumpCell", { code });
  const breakpoints = lines.map((line) => ({ line }));
  const set = await ask("setBreakpoints", { source: { path: sourcePath }, breakpoints });
  expect(set.breakpoints).toMatchObject(lines.map((line) => ({ verified: true, line })));
  return sourcePath;
}

describe("the debugger over the wire", () => {
  let path = "";
  let running: Header;

  it("is told of in kernel_info, and begins when it is asked to", async () => {
    const { content } = await client.request("kernel_info_request", {});
    expect(content).toMatchObject({ debugger: true });
    expect(content.supported_features).toContain("debugger");
    expect(await ask("debugInfo")).toMatchObject({ isStarted: false, breakpoints: [] });
    await expect(ask("inspectVariables")).rejects.toThrow("the debugger is not started");
    await expect(ask("fly")).rejects.toThrow("fly is not supported");
    const given = { clientID: "test", adapterID: "", linesStartAt1: true, columnsStartAt1: true };
    expect(await ask("initialize", given)).toMatchObject({
      supportsConfigurationDoneRequest: true,
    });
    await ask("attach");
    const info = await ask<Record<string, unknown>>("debugInfo");
    expect(info).toMatchObject({ isStarted: true, hashMethod: "Murmur2" });
    path = await breakpointsAt(cell, 6);
    const hash = murmur2(cell, info.hashSeed as number);
    expect(path).toBe(`${info.tmpFilePrefix}${hash}${info.tmpFileSuffix}`);
    await ask("configurationDone");
  });

  it("pauses where a breakpoint is, in the cell's own lines", async () => {
    await paused(async () => {
      running = await client.start(cell);
    });
    expect((await frames()).map(({ name, line, source }) => [name, line, source.path])).toEqual([
      ["mean", 6, path],
      ["cell", 10, path],
    ]);
    const { Locals, Cells } = await variables();
    // Later versions of V8 leave out a name that holds nothing yet.
    const { one = "undefined", ...held } = Locals ?? {};
    expect({ one, ...held }).toEqual({
      one: "undefined",
      readings: "Array(3) [31, 35, 36]",
      sum: "0",
    });
    expect(Cells).toMatchObject({ walked: "Array(3) [31, 35, 36]" });
    expect(await ask("debugInfo")).toMatchObject({ stoppedThreads: [1] });
    expect(await client.beat_ms()).toBeLessThan(1000);
  });

  it("evaluates where it is paused", async () => {
    const [top] = await frames();
    const given = { expression: "readings.length + sum", frameId: top?.id };
    expect(await ask("evaluate", given)).toMatchObject({ result: "3", type: "number" });
    await expect(ask("evaluate", { expression: "readings.none()" })).rejects.toThrow("TypeError");
  });

  it("gives the parts of a value", async () => {
    const { variablesReference } = await ask("evaluate", { expression: "readings" });
    const { variables: parts } = await ask<{ variables: unknown }>("variables", {
      variablesReference,
    });
    expect(parts).toMatchObject([{ name: "0", value: "31" }, { value: "35" }, { value: "36" }]);
  });

  it("steps over, out of functions and past an await, by the cell's lines", async () => {
    await breakpointsAt(cell);
    await paused(() => ask("stepOut", { threadId: 1 }));
    expect((await frames()).map(({ line }) => line)).toEqual([10]);
    const lines: (number | undefined)[] = [];
    for (let step = 0; step < 4 && lines.at(-1) !== 12; step++) {
      await paused(() => ask("next", { threadId: 1 }));
      lines.push((await frames())[0]?.line);
    }
    expect(lines).toContain(11);
    expect(lines.at(-1)).toBe(12);
    expect((await variables()).Cells).toMatchObject({ first: "34" });
    await ask("continue", { threadId: 1 });
    expect(resultOf(await client.finished(running))).toBe("'a/b 34'");
    expect(events("continued").length).toBeGreaterThan(3);
  });

  it("steps into a function of an earlier cell", async () => {
    const again = "const second = mean([1, 2]);\nsecond";
    const own = await breakpointsAt(again, 1);
    let header = running;
    await paused(async () => {
      header = await client.start(again);
    });
    await paused(() => ask("stepIn", { threadId: 1 }));
    expect((await frames()).map(({ name, line, source }) => [name, line, source.path])).toEqual([
      ["mean", 4, path],
      ["cell", 1, own],
    ]);
    await ask("continue", { threadId: 1 });
    expect(resultOf(await client.finished(header))).toBe("1.5");
  });

  it("has a breakpoint in a function that is there already, where a condition holds", async () => {
    const breakpoints = [{ line: 6, condition: "readings[0] > 5" }];
    await ask("setBreakpoints", { source: { path }, breakpoints });
    expect(resultOf(await client.execute("mean([5])"))).toBe("5");
    let header = running;
    await paused(async () => {
      header = await client.start("mean([6])");
    });
    expect((await frames())[0]).toMatchObject({ name: "mean", line: 6 });
    await ask("continue", { threadId: 1 });
    await client.finished(header);
    await breakpointsAt(cell);
  });

  it("tells what the names hold while nothing is paused, by the names that cells gave them", async () => {
    await client.execute(
      'const Map = "a map of the bank"; const bank = { name: "Sedgeholm", x: 1 };',
    );
    const { variables: all } = await ask<{ variables: { name: string }[] }>("inspectVariables");
    const of = (name: string) => all.find((one) => one.name === name);
    expect(of("walked")).toMatchObject({ value: "Array(3) [31, 35, 36]" });
    expect(of("Map")).toMatchObject({ value: '"a map of the bank"', variablesReference: 0 });
    expect(of("bank")).toMatchObject({ value: '{name: "Sedgeholm", x: 1}' });
    expect(of("mean")?.name).toBe("mean");
  });

  it("tells what the names hold while a cell computes, and while one waits", async () => {
    for (const loop of ["while (true) rounds += 1;", "while (true) await turn();"]) {
      const turn = "const turn = () => new Promise<void>((go) => setTimeout(go, ++rounds && 1));";
      const header = await client.start(`let rounds = 0;\n${turn}\nconsole.log("on");\n${loop}`);
      await client.until(() => client.outputsOf(header).length > 0);
      const { variables: all } = await ask<{ variables: { name: string; value: string }[] }>(
        "inspectVariables",
      );
      expect(Number(all.find(({ name }) => name === "rounds")?.value)).toBeGreaterThan(0);
      await client.onControl("interrupt_request");
      expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
    }
  });

  it("lets a paused cell be interrupted, with all state kept", async () => {
    const endless = "let turns = 0;\nwhile (true) {\n  turns += 1;\n}";
    await breakpointsAt(endless, 3);
    let header = running;
    await paused(async () => {
      header = await client.start(endless);
    });
    await client.onControl("interrupt_request");
    expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
    expect(Number(resultOf(await client.execute("turns")))).toBeGreaterThan(0);
    expect(resultOf(await client.execute("mean(walked)"))).toBe("34");
  });

  it("ends when it is asked to, and cells run on", async () => {
    await breakpointsAt("const third = 3;\nthird", 1);
    await ask("disconnect", { restart: false, terminateDebuggee: false });
    expect(await ask("debugInfo")).toMatchObject({ isStarted: false });
    expect(resultOf(await client.execute("const third = 3;\nthird"))).toBe("3");
    await client.onControl("shutdown_request");
    const end = new Promise((resolve) => client.process.once("exit", resolve));
    expect(client.process.exitCode ?? (await end)).toBe(0);
  });
});
