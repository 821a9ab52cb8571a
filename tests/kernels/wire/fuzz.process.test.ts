import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { FrameCodec } from "../../../kernels/wire/frames.js";
import { type Content, newHeader } from "../../../kernels/wire/messages.js";
import { type Random, seededRandom } from "../../../lib/numerics/random.js";
import { misdeeds } from "../support/misdeeds.js";
import { mutatedText } from "../support/mutations.mjs";
import { memoryOf_MB } from "../support/processes.js";
import { executeContent, resultOf, WireClient } from "../support/wire-client.js";

/** `FUZZ_SECONDS` and `FUZZ_SEED` ask for more than one round. */
const SECONDS = Number(process.env.FUZZ_SECONDS ?? 0);
const SEED = Number(process.env.FUZZ_SEED ?? 4711);

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
  await client.execute("let anchor = 41;");
});
afterAll(() => client.stop());

async function stillRight(): Promise<void> {
  expect(resultOf(await client.execute("anchor + 1"))).toBe("42");
  expect(await client.beat_ms()).toBeLessThan(1000);
  expect(client.process.exitCode).toBeNull();
}

function bytes(random: Random, longest: number): Buffer {
  return Buffer.from(Array.from({ length: random.integer(longest) }, () => random.integer(256)));
}

const requestTypes = [
  "complete_request",
  "inspect_request",
  "is_complete_request",
  "history_request",
  "comm_info_request",
  "comm_open",
  "comm_msg",
  "comm_close",
  "kernel_info_request",
  "connect_request",
  "no_such_request",
  "__proto__",
  "constructor",
];
const names = ["code", "cursor_pos", "comm_id", "data", "target_name", "hist_access_type", "n"];
const oddValues = [
  null,
  -1,
  1e308,
  "",
  "\u0000",
  "🌊".repeat(50),
  "const = ; ((((",
  "`${",
  [],
  {},
  { __proto__: null, length: -5 },
  true,
  "*?*?*".repeat(20),
];

function oddContent(random: Random): Content {
  const kept = names.filter(() => random.uniform() < 0.6);
  return Object.fromEntries(
    kept.map((name) => [name, oddValues[random.integer(oddValues.length)]]),
  );
}

describe("malformed frames", () => {
  it("are passed over: random bytes, no delimiter, too few frames, no JSON", async () => {
    const random = seededRandom(20310412);
    for (let i = 0; i < 1000; i++) {
      const socket = [client.shell, client.control, client.stdin][i % 3] ?? client.shell;
      const frames = Array.from({ length: 1 + random.integer(8) }, () => bytes(random, 40));
      if (random.uniform() < 0.5) frames[random.integer(frames.length)] = Buffer.from("<IDS|MSG>");
      await socket.send(frames);
    }
    await stillRight();
  });

  it("are passed over where the signature is right and the JSON is not a message", async () => {
    const before = client.replies.length;
    const { createHmac } = await import("node:crypto");
    for (const parts of [
      ["{}", "{}", "{}", "{}"],
      ["[]", "{}", "{}", "{}"],
      ["{", "{}", "{}", "{}"],
      ['{"msg_id":1,"msg_type":2}', "{}", "{}", "{}"],
      ['{"msg_id":"1","msg_type":"kernel_info_request"}', "{}", "{}", "[]"],
      ['{"msg_id":"1","msg_type":"kernel_info_request"}', "7", "{}", "{}"],
    ]) {
      const hmac = createHmac("sha256", "sedgeholm");
      for (const part of parts) hmac.update(part);
      await client.shell.send(["<IDS|MSG>", hmac.digest("hex"), ...parts]);
    }
    await stillRight();
    expect(client.replies.length).toBe(before + 1);
  });

  it("are passed over where the signature is wrong or was seen before", async () => {
    const before = client.replies.length;
    const message = { type: "execute_request", parent: null, header: newHeader("execute_request") };
    const content = JSON.stringify(executeContent("anchor = 0"));
    await client.shell.send(new FrameCodec("another key").encode([], { ...message, content }));
    await client.shell.send(new FrameCodec("").encode([], { ...message, content }));
    const add = JSON.stringify(executeContent("anchor += 1"));
    const frames = new FrameCodec("sedgeholm").encode([], { ...message, content: add });
    await client.shell.send(frames);
    await client.shell.send(frames);
    await client.execute("anchor -= 1");
    await stillRight();
    expect(client.replies.length).toBe(before + 3);
  });

  it("may be huge", async () => {
    await client.shell.send([Buffer.alloc(20_000_000, 7)]);
    const text = "x".repeat(5_000_000);
    const { reply } = await client.execute(`/* ${text} */ 1`);
    expect(reply.content.status).toBe("ok");
    await client.send(
      "shell",
      "comm_msg",
      { comm_id: "none", data: {} },
      { buffers: [Buffer.alloc(20_000_000)] },
    );
    await stillRight();
  });
});

describe("cells that break what they run in", () => {
  it.each(misdeeds)("fail by themselves where one %s", async (_, source, ename) => {
    const { reply } = await client.execute(source);
    expect(reply.content).toMatchObject({ status: "error", ename });
    await stillRight();
  });
});

const sources = [
  "const xs = [3, 1, 2].map((x) => 2 * x); xs",
  "let total = 0; for (const x of [1, 2, 3]) total += x; console.log(total); total",
  'interface Reach { name: string; length_m: number }\nconst reach: Reach = { name: "Sedgeholm", length_m: 850 }; reach',
  "async function later(n: number) { await Promise.resolve(); return n + 1 }\nawait later(41)",
  'import { join } from "node:path";\ndisplay({ "text/markdown": join("a", "b") }); class Gauge<T> { constructor(readonly at: T) {} } new Gauge(7)',
];
/** What is named here must outlive every cell. */
const harmless = (source: string) => !source.includes("anchor");

async function randomMessages(random: Random, count: number): Promise<void> {
  client.replies.length = 0;
  client.published.length = 0;
  const asked: string[] = [];
  for (let i = 0; i < count; i++) {
    const type = requestTypes[random.integer(requestTypes.length)] ?? "";
    const channel = random.uniform() < 0.1 ? "control" : "shell";
    const header = await client.send(channel, type, oddContent(random));
    if (channel === "shell" && /^(complete|inspect|is_complete|history)/.test(type)) {
      asked.push(header.msg_id);
    }
    // No more are under way than a loaded machine answers in time.
    if (i % 1000 === 999) await stillRight();
  }
  await stillRight();
  const answered = client.replies.map((one) => String(one.parent_header.msg_id));
  expect(answered.filter((id) => asked.includes(id))).toEqual(asked);
}

/** Cells with a piece cut out, another put in, or lines moved about: each has an end of its own. */
async function spoiledCells(random: Random, count: number): Promise<void> {
  for (let i = 0; i < count; i++) {
    let source = sources[random.integer(sources.length)] ?? "";
    for (let n = 0; n <= random.integer(3); n++) source = mutatedText(random, source);
    if (!harmless(source)) continue;
    const header = await client.start(source);
    const interrupt = setTimeout(() => void client.send("control", "interrupt_request", {}), 5000);
    const { reply } = await client.finished(header).catch((cause: unknown) => {
      throw new Error(`no end of the cell ${JSON.stringify(source)}`, { cause });
    });
    clearTimeout(interrupt);
    expect(["ok", "error"], source).toContain(reply.content.status);
  }
  await stillRight();
}

describe("10,000 random messages and 50 spoiled cells", () => {
  it(
    "leave every request with its own reply, in order, and the kernel right",
    async () => {
      const random = seededRandom(SEED);
      const end = performance.now() + 1000 * SECONDS;
      do {
        await randomMessages(random, 10_000);
        await spoiledCells(random, 50);
        expect(memoryOf_MB(client.process.pid ?? 0)).toBeLessThan(1500);
      } while (performance.now() < end);
    },
    120_000 + 2000 * SECONDS,
  );
});
