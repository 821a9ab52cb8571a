// The kernel beside bare tslab, in one run, on the same machine at the same time: time from the start
// of the process to the first result, time a cell over 300 cells, memory at the end. The kernel is
// started with the words that `banquette kernel install` writes for Jupyter.
// Run: node dist/bench/kernel.js
import { spawn, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Dealer } from "zeromq";
import { FrameCodec } from "../kernels/wire/frames.js";
import { newHeader } from "../kernels/wire/messages.js";

const cells = 300;
const rounds = Number(process.env.BENCH_ROUNDS ?? 3);
const key = "bench";
/** Longest wait for an answer: so many times what tslab's first one took, and for that one, ms. */
const patienceOverTslab = 20;
let patience_ms = 300_000;

interface Measured {
  readonly first_ms: number;
  readonly cell_ms: number;
  readonly firstCells_ms: number;
  readonly lastCells_ms: number;
  readonly memory_MB: number;
  /** The cell `import { … } from "banquette"`; NaN where it is not asked for. */
  readonly import_ms: number;
}

const importing =
  'import { correctDrift, estimateDepthSlices, maskInterference, openSurvey, segmentBlocks } from "banquette";';

const requireHere = createRequire(import.meta.url);
const compiled = (path: string) => fileURLToPath(new URL(`../kernels/${path}`, import.meta.url));
const connection = "{connection_file}";
const tslab = [requireHere.resolve("tslab/bin/tslab"), "kernel", "--config-path", connection];

// As Jupyter reads it from the kernel's folder.
function installedArgv(prefix: string): readonly string[] {
  const install = [compiled("command/main.js"), "kernel", "install", "--prefix", prefix];
  const { status, stderr } = spawnSync(process.execPath, install, { encoding: "utf8" });
  if (status !== 0) throw new Error(`the kernel cannot be installed: ${stderr}`);
  const file = join(prefix, "share/jupyter/kernels/banquette/kernel.json");
  return (JSON.parse(readFileSync(file, "utf8")) as { readonly argv: readonly string[] }).argv;
}

interface Asked {
  /** Cells to run. */
  readonly count?: number;
  /** Whether the library is imported at the end. */
  readonly imports?: boolean;
}

async function measure(
  argv: readonly string[],
  { count = cells, imports = false }: Asked = {},
): Promise<Measured> {
  const folder = mkdtempSync(join(tmpdir(), "bench-kernel-"));
  const ports = await freePorts(5);
  const file = join(folder, "connection.json");
  writeFileSync(file, connectionText(ports));
  const before = performance.now();
  const [program = "", ...words] = argv.map((word) => (word === connection ? file : word));
  const kernel = spawn(program, words, { stdio: "ignore" });
  const shell = new Dealer({ routingId: "bench", receiveTimeout: patience_ms });
  shell.connect(`tcp://127.0.0.1:${ports[0]}`);
  const codec = new FrameCodec(key);
  const run = async (code: string): Promise<number> => {
    const from = performance.now();
    await shell.send(codec.encode([], executeRequest(code)));
    const received = codec.decode(await shell.receive());
    if (received?.message.content.status !== "ok") throw new Error(`the cell failed: ${code}`);
    return performance.now() - from;
  };
  try {
    await run("1 + 1");
    const first_ms = performance.now() - before;
    const times: number[] = [];
    for (let i = 0; i < count; i++) times.push(await run(`let level_${i} = ${i};\nlevel_${i} + 1`));
    const ends = {
      firstCells_ms: median(times.slice(0, 50)),
      lastCells_ms: median(times.slice(-50)),
    };
    const memory = memory_MB(kernel.pid);
    const import_ms = imports ? await run(importing) : Number.NaN;
    return { first_ms, cell_ms: median(times), ...ends, memory_MB: memory, import_ms };
  } finally {
    shell.close();
    kernel.kill("SIGKILL");
    rmSync(folder, { recursive: true, force: true });
  }
}

// A free port may be taken before the kernel listens, by the bench's own waiting connection, too: then
// no answer comes, and the kernel is started once more.
async function measureOrAgain(argv: readonly string[], asked?: Asked): Promise<Measured> {
  try {
    return await measure(argv, asked);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EAGAIN") throw error;
    console.error(`no answer from ${argv.join(" ")}: started once more`);
    return measure(argv, asked);
  }
}

function executeRequest(code: string) {
  const content = { code, silent: false, store_history: true, user_expressions: {} };
  const text = JSON.stringify({ ...content, allow_stdin: false, stop_on_error: true });
  return {
    type: "execute_request",
    parent: null,
    content: text,
    header: newHeader("execute_request"),
  };
}

function connectionText([shell_port, control_port, stdin_port, iopub_port, hb_port]: number[]) {
  const ports = { shell_port, control_port, stdin_port, iopub_port, hb_port };
  const rest = { transport: "tcp", ip: "127.0.0.1", signature_scheme: "hmac-sha256", key };
  return JSON.stringify({ ...ports, ...rest });
}

async function freePorts(count: number): Promise<number[]> {
  const servers = Array.from({ length: count }, () => createServer().listen(0, "127.0.0.1"));
  await Promise.all(servers.map((one) => new Promise((done) => one.once("listening", done))));
  const ports = servers.map((one) => (one.address() as { readonly port: number }).port);
  await Promise.all(servers.map((one) => new Promise((done) => one.close(done))));
  return ports;
}

function memory_MB(pid: number | undefined): number {
  const { stdout } = spawnSync("ps", ["-o", "rss=", "-p", String(pid)], { encoding: "utf8" });
  return Number(stdout) / 1024;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

const prefix = mkdtempSync(join(tmpdir(), "bench-prefix-"));
const installed = installedArgv(prefix);
const notInstalled = [process.execPath, compiled("wire/main.js"), connection];
const bare = [process.execPath, ...tslab];
const { first_ms: ofTslab_ms } = await measure(bare, { count: 0 });
patience_ms = patienceOverTslab * ofTslab_ms;
const plain: Measured[] = [];
const importers: Measured[] = [];
const ours: Measured[] = [];
const theirs: Measured[] = [];
for (let round = 0; round < rounds; round++) {
  ours.push(await measureOrAgain(installed));
  theirs.push(await measureOrAgain(bare));
  plain.push(await measureOrAgain(notInstalled, { count: 1, imports: true }));
  importers.push(await measureOrAgain(installed, { count: 1, imports: true }));
}
rmSync(prefix, { recursive: true, force: true });
const rows: readonly (readonly [string, keyof Measured, string])[] = [
  ["start to first result", "first_ms", "ms"],
  ["a cell, median of 300", "cell_ms", "ms"],
  ["a cell, the first 50", "firstCells_ms", "ms"],
  ["a cell, the last 50", "lastCells_ms", "ms"],
  ["resident memory after 300 cells", "memory_MB", "MB"],
];
console.log(`${"".padEnd(34)}${"banquette".padStart(12)}${"tslab".padStart(12)}   ratio`);
for (const [what, name, unit] of rows) {
  const [mine, other] = [ours, theirs].map((all) => median(all.map((one) => one[name])));
  const shown = [mine, other].map((one) => `${one?.toFixed(0)} ${unit}`.padStart(12)).join("");
  console.log(`${what.padEnd(34)}${shown}   ${((mine ?? 0) / (other ?? 0)).toFixed(2)}`);
}
const plain_ms = median(plain.map((one) => one.first_ms)).toFixed(0);
console.log(`banquette from start to first result without its start-up snapshot: ${plain_ms} ms`);
process.exit(0);
const [import_ms, plainImport_ms] = [importers, plain].map((all) =>
  median(all.map((one) => one.import_ms)).toFixed(0),
);
console.log(
  `import … from "banquette": ${import_ms} ms, without the snapshot ${plainImport_ms} ms`,
);
