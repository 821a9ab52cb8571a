import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Dealer } from "zeromq";
import { FrameCodec } from "../../kernels/wire/frames.js";
import { newHeader } from "../../kernels/wire/messages.js";

const key = "bench";
export const connectionWord = "{connection_file}";

/** Time on the clock and time of processors, ms. */
export interface Cost {
  readonly wall_ms: number;
  /** User and system time of the process; NaN where the system does not tell. */
  readonly cpu_ms: number;
}

/** A kernel process that has no answer yet. */
export interface StartedKernel {
  /** Runs a cell; the cost counts from the message. */
  run(code: string): Promise<Cost>;
  /** All that the process has cost since it was started. */
  cost(): Cost;
  /** Resident memory, MB. */
  memory_MB(): number;
  stop(): void;
}

/** A kernel that gave no answer in time. */
export class NoAnswer extends Error {}

/** Starts a kernel on free ports; an answer that takes longer than `patience_ms` is `NoAnswer`. */
export async function startKernel(
  argv: readonly string[],
  patience_ms: number,
): Promise<StartedKernel> {
  const folder = mkdtempSync(join(tmpdir(), "bench-kernel-"));
  const ports = await freePorts(5);
  const file = join(folder, "connection.json");
  writeFileSync(file, connectionText(ports));
  const [program = "", ...words] = argv.map((word) => (word === connectionWord ? file : word));
  const before = performance.now();
  const kernel = spawn(program, words, { stdio: "ignore" });
  const shell = new Dealer({ routingId: "bench", receiveTimeout: patience_ms, linger: 0 });
  shell.connect(`tcp://127.0.0.1:${ports[0]}`);
  const codec = new FrameCodec(key);
  const cost = () => ({ wall_ms: performance.now() - before, cpu_ms: cpu_ms(kernel) });
  return {
    cost,
    async run(code) {
      const from = cost();
      await shell.send(codec.encode([], executeRequest(code)));
      const received = codec.decode(await shell.receive().catch(noAnswer));
      if (received?.message.content.status !== "ok") throw new Error(`the cell failed: ${code}`);
      const to = cost();
      return { wall_ms: to.wall_ms - from.wall_ms, cpu_ms: to.cpu_ms - from.cpu_ms };
    },
    memory_MB: () => fromProc(kernel, "status", /VmRSS:\s*(\d+)/, ([, kB]) => Number(kB) / 1024),
    stop() {
      shell.close();
      kernel.kill("SIGKILL");
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function noAnswer(error: NodeJS.ErrnoException): never {
  throw error.code === "EAGAIN" ? new NoAnswer() : error;
}

/** Linux counts a process's time in hundredths of a second. */
const tick_ms = 10;

function cpu_ms(kernel: ChildProcess): number {
  // Behind the name in brackets: state, eleven numbers, user time, system time (man 5 proc).
  const times = /\) \S+(?: \S+){10} (\d+) (\d+)/;
  return fromProc(kernel, "stat", times, ([, user, system]) => {
    return (Number(user) + Number(system)) * tick_ms;
  });
}

function fromProc(
  { pid }: ChildProcess,
  name: string,
  pattern: RegExp,
  value: (found: RegExpExecArray) => number,
): number {
  try {
    const found = pattern.exec(readFileSync(`/proc/${pid}/${name}`, "utf8"));
    return found === null ? Number.NaN : value(found);
  } catch {
    return Number.NaN;
  }
}

function executeRequest(code: string) {
  const content = { code, silent: false, store_history: true, user_expressions: {} };
  const text = JSON.stringify({ ...content, allow_stdin: false, stop_on_error: true });
  const type = "execute_request";
  return { type, parent: null, content: text, header: newHeader(type) };
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
