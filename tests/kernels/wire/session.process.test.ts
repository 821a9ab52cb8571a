import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Content } from "../../../kernels/wire/messages.js";
import { executeContent, resultOf, textOf, WireClient } from "../support/wire-client.js";

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

function types(messages: readonly { readonly header: { readonly msg_type: string } }[]): string[] {
  return messages.map(({ header }) => header.msg_type);
}

/** Milliseconds that something takes. */
async function took_ms(work: () => Promise<unknown>): Promise<number> {
  const before = performance.now();
  await work();
  return performance.now() - before;
}

async function interrupted(code: string): Promise<{ readonly status: unknown; ms: number }> {
  const header = await client.start(code);
  await client.until(() => textOf(client.outputsOf(header)).includes("started"));
  const beat_ms = await client.beat_ms();
  expect(beat_ms).toBeLessThan(200);
  let status: unknown;
  const ms = await took_ms(async () => {
    const answer = await client.onControl("interrupt_request");
    expect(answer.content).toEqual({ status: "ok" });
    const { reply, outputs } = await client.finished(header);
    status = reply.content.ename;
    expect(types(outputs).at(-1)).toBe("error");
  });
  return { status, ms };
}

describe("a cell over the wire", () => {
  it("has its statuses, its input, its outputs and its reply in this order", async () => {
    const header = await client.start("console.log('walked');\n1 + 2");
    const { reply } = await client.finished(header);
    expect(client.of(header).map(({ header: one, content }) => [one.msg_type, content])).toEqual([
      ["status", { execution_state: "busy" }],
      ["execute_input", { code: "console.log('walked');\n1 + 2", execution_count: 1 }],
      ["stream", { name: "stdout", text: "walked\n" }],
      [
        "execute_result",
        { execution_count: 1, data: { "text/plain": "3" }, metadata: {}, transient: {} },
      ],
      ["status", { execution_state: "idle" }],
    ]);
    expect(reply.header.version).toBe("5.5");
    expect(reply.content).toEqual({
      status: "ok",
      execution_count: 1,
      user_expressions: {},
      payload: [],
    });
  });

  it("evaluates expressions for the front end", async () => {
    const { reply, outputs } = await client.execute("const spacing_m = 2;", {
      user_expressions: { twice: "spacing_m * 2", wrong: "throw_m" },
    });
    expect(outputs).toEqual([]);
    const { twice, wrong } = reply.content.user_expressions as Record<string, Content>;
    expect(twice).toEqual({ status: "ok", data: { "text/plain": "4" }, metadata: {} });
    expect(wrong).toMatchObject({ status: "error", evalue: "Cannot find name 'throw_m'." });
  });

  it("sends nothing when silent, and does not count", async () => {
    const before = (await client.execute("0")).reply.content.execution_count as number;
    const header = await client.start("let quiet = 5; console.log(quiet); quiet", { silent: true });
    const { reply } = await client.finished(header);
    expect(types(client.of(header))).toEqual(["status", "status"]);
    expect(reply.content).toMatchObject({ status: "ok", execution_count: before });
    const next = await client.execute("quiet");
    expect(next.reply.content.execution_count).toBe(before + 1);
    expect(resultOf(next)).toBe("5");
    const asked = { hist_access_type: "tail", n: 2, raw: true, output: true };
    const { content } = await client.request("history_request", asked);
    expect(content.history).toEqual([
      [1, before, ["0", "0"]],
      [1, before + 1, ["quiet", "5"]],
    ]);
  });

  it("aborts what waits after an error, except with stop_on_error false", async () => {
    const stopping = await client.start("throw new Error('stop')");
    const waiting = [await client.start("1"), await client.start("2")];
    const other = await client.send("shell", "comm_info_request", {});
    expect((await client.replyTo(stopping)).content.status).toBe("error");
    for (const header of waiting) {
      const { reply, outputs } = await client.finished(header);
      expect(reply.content).toEqual({ status: "aborted" });
      expect(outputs).toEqual([]);
    }
    expect((await client.replyTo(other)).content).toEqual({ status: "ok", comms: {} });
    const going = await client.start("throw new Error('go on')", { stop_on_error: false });
    const after = await client.start("'after'");
    expect((await client.replyTo(going)).content.status).toBe("error");
    expect((await client.finished(after)).reply.content.status).toBe("ok");
  });

  it("keeps its late outputs although another cell began", async () => {
    const first = await client.start(
      "setTimeout(() => console.log('late'), 300);\n" +
        "void (async () => { await new Promise((go) => setTimeout(go, 350)); display('later'); })();",
    );
    await client.finished(first);
    const second = await client.start(
      "await new Promise((go) => setTimeout(go, 600)); console.log('second');",
    );
    await client.finished(second);
    expect(textOf(client.outputsOf(first))).toBe("late\n");
    expect(types(client.outputsOf(first))).toEqual(["stream", "display_data"]);
    expect(textOf(client.outputsOf(second))).toBe("second\n");
  });

  it("updates what it displayed and clears its output", async () => {
    const { outputs } = await client.execute(
      "const shown = display('first'); shown.update('second'); clearOutput(true);",
    );
    expect(types(outputs)).toEqual(["display_data", "update_display_data", "clear_output"]);
    const [first, second, third] = outputs.map(({ content }) => content);
    expect(second?.transient).toEqual(first?.transient);
    expect(second?.data).toEqual({ "text/plain": "'second'" });
    expect(third).toEqual({ wait: true });
  });

  it("asks the user, where the front end allows it", async () => {
    const refused = await client.execute("await prompt('depth?')");
    expect(refused.reply.content.ename).toBe("InputNotPossible");
    const header = await client.start("(await prompt('depth? ', { password: true })) + ' m'", {
      allow_stdin: true,
    });
    await client.until(() => client.questions.length > 0);
    const [question] = client.questions;
    expect(question?.content).toEqual({ prompt: "depth? ", password: true });
    expect(question?.parent_header.msg_id).toBe(header.msg_id);
    await client.send("stdin", "input_reply", { value: "1.8" });
    expect(resultOf(await client.finished(header))).toBe("'1.8 m'");
  });

  it("shows help on a name in the pager", async () => {
    const { reply } = await client.execute("Math.hypot?");
    const [page] = reply.content.payload as { source: string; data: Content }[];
    expect(page?.source).toBe("page");
    expect(page?.data["text/plain"]).toContain("hypot");
  });
});

describe("an interrupt", () => {
  it("ends a busy loop within a second, and keeps what there was", async () => {
    await client.execute("let steps = 1;");
    const { status, ms } = await interrupted("steps = 2; console.log('started'); while (true) {}");
    expect(status).toBe("Interrupted");
    expect(ms).toBeLessThan(1000);
    expect(resultOf(await client.execute("steps"))).toBe("2");
  });

  it("ends an await that never resolves within a second, and keeps what there was", async () => {
    const { status, ms } = await interrupted(
      "steps = 3; console.log('started'); await new Promise(() => {});",
    );
    expect(status).toBe("Interrupted");
    expect(ms).toBeLessThan(1000);
    expect(resultOf(await client.execute("steps"))).toBe("3");
  });

  it.each([
    ["after an await", "await 1; console.log('started'); while (true) {}"],
    [
      "in a timer",
      "setTimeout(() => { console.log('started'); while (true) {} }, 5); await new Promise(() => {});",
    ],
    [
      "in a promise's callback",
      "Promise.resolve().then(() => { console.log('started'); for (;;) {} }); await new Promise(() => {});",
    ],
    [
      "that waits between steps",
      "console.log('started'); while (true) await new Promise((go) => setTimeout(go, 5));",
    ],
    [
      "that catches everything",
      "console.log('started'); while (true) { try { while (true) {} } catch {} }",
    ],
  ])("ends a loop %s", async (_, code) => {
    const { status, ms } = await interrupted(code);
    expect(status).toBe("Interrupted");
    expect(ms).toBeLessThan(1500);
    expect(resultOf(await client.execute("steps + 1"))).toBe("4");
  });

  it.each([
    [
      "awaits for ever",
      "console.log('started'); for (;;) { try { await new Promise(() => {}) } catch {} }",
    ],
    [
      "turns in a function's microtasks",
      "async function turn() { for (;;) { try { await null } catch {} } }\n" +
        "console.log('started'); await turn();",
    ],
  ])("ends a loop that catches everything and %s", async (_, code) => {
    const { status, ms } = await interrupted(code);
    expect(status).toBe("Interrupted");
    expect(ms).toBeLessThan(1500);
    expect(resultOf(await client.execute("steps + 1"))).toBe("4");
  });

  it("ends by a second one what computes after the first", async () => {
    const header = await client.start(
      "console.log('started'); try { await new Promise(() => {}) } catch { console.log('caught'); for (;;) {} }",
    );
    await client.until(() => textOf(client.outputsOf(header)).includes("started"));
    await client.onControl("interrupt_request");
    await client.until(() => textOf(client.outputsOf(header)).includes("caught"));
    await client.onControl("interrupt_request");
    expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
    expect(resultOf(await client.execute("steps"))).toBe("3");
  });

  it("leaves a kernel that lives on when the memory is cleared", async () => {
    await interrupted("console.log('started'); await 1; while (true) {}");
    await client.execute(
      "import { setFlagsFromString } from 'node:v8'; import { runInNewContext } from 'node:vm';\n" +
        "setFlagsFromString('--expose-gc');\n" +
        "for (let i = 0; i < 3; i++) { runInNewContext('gc')(); await new Promise((go) => setTimeout(go, 20)); }",
    );
    expect(resultOf(await client.execute("steps"))).toBe("3");
  });

  it("comes by signal, too", async () => {
    const header = await client.start("console.log('started'); await 0; while (true) {}");
    await client.until(() => textOf(client.outputsOf(header)).includes("started"));
    client.process.kill("SIGINT");
    expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
    client.process.kill("SIGINT");
    expect(resultOf(await client.execute("steps"))).toBe("3");
  });

  it("leaves alone a kernel that does nothing", async () => {
    for (let i = 0; i < 5; i++) await client.onControl("interrupt_request");
    expect(resultOf(await client.execute("steps"))).toBe("3");
  });
});

describe("the wire", () => {
  it("answers on control while a cell computes", async () => {
    const header = await client.start(
      "console.log('started'); { const end = Date.now() + 700; while (Date.now() < end); }",
    );
    await client.until(() => textOf(client.outputsOf(header)).includes("started"));
    const ms = await took_ms(async () => {
      const { content } = await client.onControl("kernel_info_request");
      expect(content).toMatchObject({ status: "ok", implementation: "banquette" });
    });
    expect(ms).toBeLessThan(400);
    expect(client.replies.some((one) => one.parent_header.msg_id === header.msg_id)).toBe(false);
    await client.finished(header);
  });

  it("counts the cursor in code points", async () => {
    const code = "/* 🌊🌊 */ Math.hyp";
    const { content } = await client.request("complete_request", { code, cursor_pos: 17 });
    expect(content).toMatchObject({ matches: ["hypot"], cursor_start: 14, cursor_end: 17 });
  });

  it("carries binary buffers over comms, opened from either side", async () => {
    const made = await client.execute(
      "comms.register('gauge', (comm) => {\n" +
        "  comm.onMessage = ({ data, buffers }) =>\n" +
        "    comm.send({ seen: data.ask, bytes: buffers[0]?.length ?? 0 }, { buffers: [...buffers] });\n" +
        "});\n" +
        "const level = comms.open('level', { from: 'kernel' });",
    );
    expect(types(made.outputs)).toEqual(["comm_open"]);
    const buffers = [Uint8Array.from({ length: 100_000 }, (_, i) => i % 251)];
    await client.send("shell", "comm_open", { comm_id: "c1", target_name: "gauge", data: {} });
    const asking = await client.send(
      "shell",
      "comm_msg",
      { comm_id: "c1", data: { ask: 7 } },
      { buffers },
    );
    await client.until(() => client.outputsOf(asking).length > 0);
    const [answer] = client.outputsOf(asking);
    expect(answer?.content).toEqual({ comm_id: "c1", data: { seen: 7, bytes: 100_000 } });
    expect(Buffer.compare(answer?.buffers[0] as Buffer, buffers[0] as Uint8Array)).toBe(0);
    const { content } = await client.request("comm_info_request", { target_name: "gauge" });
    expect(content.comms).toEqual({ c1: { target_name: "gauge" } });
    const unknown = { comm_id: "c2", target_name: "nobody", data: {} };
    const refused = await client.send("shell", "comm_open", unknown);
    await client.until(() => client.outputsOf(refused).length > 0);
    expect(types(client.outputsOf(refused))).toEqual(["comm_close"]);
  });

  it("joins many short texts and loses none", async () => {
    const header = await client.start("for (let i = 0; i < 20_000; i++) console.log(i);");
    const { outputs } = await client.finished(header);
    const lines = textOf(outputs).trimEnd().split("\n");
    expect(lines).toHaveLength(20_000);
    expect(lines[19_999]).toBe("19999");
    expect(outputs.length).toBeLessThan(2000);
  });

  it("answers a request without code with an error", async () => {
    const { content } = await client.request("execute_request", { ...executeContent(""), code: 7 });
    expect(content).toMatchObject({ status: "error", ename: "TypeError" });
  });
});

describe("shutdown", () => {
  it("ends the process although a cell computes", async () => {
    const other = await WireClient.launch();
    try {
      const header = await other.start("console.log('started'); while (true) {}");
      await other.until(() => textOf(other.outputsOf(header)).includes("started"));
      const ended = new Promise((resolve) => other.process.on("exit", resolve));
      const { header: sent } = await other.onControl("shutdown_request");
      expect(sent.msg_type).toBe("shutdown_reply");
      expect(await took_ms(() => ended)).toBeLessThan(4000);
    } finally {
      await other.stop();
    }
  });

  it("ends an idle process with code 0, and says so to all", async () => {
    const other = await WireClient.launch();
    try {
      await other.execute("1");
      const ended = new Promise((resolve) => other.process.on("exit", resolve));
      await other.onControl("shutdown_request");
      expect(await ended).toBe(0);
      expect(types(other.published)).toContain("shutdown_reply");
    } finally {
      await other.stop();
    }
  });
});
