import { spawnSync } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { banquetteIn } from "../command/banquette.js";
import { repository } from "../support/cells.js";
import { type Launch, resultOf, textOf, WireClient } from "../support/wire-client.js";

/** Whether a process began from a snapshot, by the words that it was started with. */
function beganWithSnapshot({ pid }: WireClient["process"]): boolean {
  const { stdout } = spawnSync("ps", ["-o", "args=", "-p", String(pid)], { encoding: "utf8" });
  expect(stdout).toContain("dist/kernels/wire/main.js");
  return stdout.includes("--snapshot-blob");
}

let prefix = "";
let argv: readonly string[] = [];
let client: WireClient;
beforeAll(async () => {
  prefix = await mkdtemp(join(tmpdir(), "wend-"));
  await banquetteIn(prefix, ["kernel", "install", "--prefix", prefix]);
  const spec = join(prefix, "share/jupyter/kernels/banquette/kernel.json");
  argv = JSON.parse(await readFile(spec, "utf8")).argv;
  client = await WireClient.launch({ argv, env: { NODE_OPTIONS: "" } });
}, 60_000);
afterAll(async () => {
  await client.stop();
  await rm(prefix, { recursive: true, force: true });
});

async function shown(code: string, by = client): Promise<unknown> {
  return resultOf(await by.execute(code));
}

it("starts from the snapshot, as the process that Jupyter knows", async () => {
  expect(beganWithSnapshot(client.process)).toBe(true);
  expect(await shown("process.pid")).toBe(String(client.process.pid));
});

it("reads neither the compiler nor a declaration of the library or Node again", () => {
  const blob = join(prefix, "share/jupyter/kernels/banquette/start.blob");
  const script = join(repository, "tests/kernels/support/snapshot-reads.mjs");
  const env = { ...process.env, NODE_OPTIONS: "" };
  const words = (snapshot: readonly string[]) => [...snapshot, script];
  const ran = (snapshot: readonly string[]) => {
    const { stdout } = spawnSync(process.execPath, words(snapshot), { cwd: prefix, env });
    return JSON.parse(stdout.toString()) as { readonly faults: []; readonly read: string[] };
  };
  expect(ran(["--snapshot-blob", blob])).toEqual({ faults: [], read: [] });
  const { faults, read } = ran([]);
  expect(faults).toEqual([]);
  expect(read.length).toBeGreaterThan(200);
}, 60_000);

it("leaves nothing of the snapshot for cells to find", async () => {
  const names = "Object.getOwnPropertyNames(globalThis).filter((one) => /prepared/i.test(one))";
  expect(await shown(names)).toBe("[]");
  expect(await shown("// unchecked\ntypeof module_ + typeof hold")).toBe("'undefinedundefined'");
});

it("is an ordinary process to cells and to their child processes", async () => {
  expect(await shown("process.execArgv")).toBe("[]");
  expect(await shown("typeof console.Console + Error.stackTraceLimit")).toBe("'function10'");
});

it("checks against the whole library and Node's declarations", async () => {
  const wrong = await client.execute("new Map<string, number>().set(1, 2)");
  expect(JSON.stringify(wrong.outputs)).toContain("not assignable to parameter of type 'string'");
  const imports = 'import { promises as dns } from "node:dns";';
  expect(await shown(`${imports}\ntypeof dns.lookup`)).toBe("'function'");
  const missing = await client.execute('import { x } from "node:none"');
  expect(JSON.stringify(missing.outputs)).toContain("Cannot find module");
});

it("shows where an error comes from", async () => {
  const { reply } = await client.execute("const f = () => {\n  throw new Error('x');\n};\nf();");
  expect((reply.content.traceback as string[]).join("\n")).toMatch(
    /at f \(cell \d+, line 2\)\n.* at cell \d+, line 4/,
  );
});

it("knows the documentation of the library and of Node", async () => {
  const samples = [
    { code: "Math.hypot", cursor_pos: 10, words: "square root of the sum of squares" },
    { code: 'import { statSync } from "node:fs"', cursor_pos: 12, words: "Get file status" },
  ];
  for (const { words, ...place } of samples) {
    const { content } = await client.request("inspect_request", { ...place, detail_level: 0 });
    expect(JSON.stringify(content.data)).toContain(words);
  }
});

it("is interrupted with its state kept", async () => {
  await client.execute("let depth_m = 2.5");
  const header = await client.start("console.log('started'); while (true) {}");
  await client.until(() => textOf(client.outputsOf(header)).includes("started"));
  await client.onControl("interrupt_request");
  expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
  expect(await shown("depth_m")).toBe("2.5");
});

const without: readonly (readonly [string, () => Launch])[] = [
  [
    "Node is given other V8 options",
    () => ({ argv, env: { NODE_OPTIONS: "--max-old-space-size=900" } }),
  ],
  ["Node has another version", () => ({ argv: argv.map((word) => word.replace(/^v\d+/, "v1")) })],
  ["it is gone", () => ({ argv: argv.map((word) => word.replace("start.blob", "none.blob")) })],
];
for (const [what, launch] of without) {
  it(`starts without the snapshot where ${what}`, async () => {
    const other = await WireClient.launch(launch());
    try {
      expect(beganWithSnapshot(other.process)).toBe(false);
      expect(await shown("new Map([[1, 2]]).size", other)).toBe("1");
    } finally {
      await other.stop();
    }
  });
}
