import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Dealer, Request, Subscriber } from "zeromq";
import { FrameCodec } from "../../../kernels/wire/frames.js";
import {
  type Content,
  type Header,
  type Message,
  newHeader,
} from "../../../kernels/wire/messages.js";
import { repository } from "./cells.js";

const key = "sedgeholm";
const connectionFile = "{connection_file}";
const kernelFile = join(repository, "dist/kernels/wire/main.js");
/** What Node is started with for the built kernel. */
export const kernelArguments = [kernelFile, connectionFile];
const built = [process.execPath, ...kernelArguments];

export interface Launch {
  /** As in a kernel.json. Default: Node on the built kernel. */
  readonly argv?: readonly string[];
  /** More environment variables. */
  readonly env?: Readonly<Record<string, string>>;
  /** The folder in which it starts. Default: the repository. */
  readonly folder?: string;
}

export interface Sending {
  readonly parent?: Header;
  readonly buffers?: readonly Uint8Array[];
  /** Id of the subshell that it goes to. */
  readonly subshell?: string;
}

export interface Executed {
  readonly reply: Message;
  /** What came over IOPub for this request, the two statuses left out. */
  readonly outputs: readonly Message[];
}

const yes = () => true;
const no = () => false;

/** A front end for one kernel in a process of its own. */
export class WireClient {
  readonly process: ChildProcess;
  readonly shell = new Dealer({ routingId: "front-end" });
  readonly control = new Dealer({ routingId: "front-end" });
  readonly stdin = new Dealer({ routingId: "front-end" });
  readonly heartbeat = new Request();
  /** Everything that came over IOPub, in order. */
  readonly published: Message[] = [];
  /** Everything that came over the shell, in order. */
  readonly replies: Message[] = [];
  readonly controlReplies: Message[] = [];
  readonly questions: Message[] = [];
  readonly #iopub = new Subscriber();
  readonly #codec = new FrameCodec(key);
  readonly #watchers = new Set<() => void>();
  readonly #folder: string;

  private constructor(process: ChildProcess, folder: string) {
    this.process = process;
    this.#folder = folder;
  }

  static async launch({
    argv = built,
    env = {},
    folder: cwd = repository,
  }: Launch = {}): Promise<WireClient> {
    const folder = await mkdtemp(join(tmpdir(), "wend-kernel-"));
    const [shell_port, control_port, stdin_port, iopub_port, hb_port] = await freePorts(5);
    const ports = { shell_port, control_port, stdin_port, iopub_port, hb_port };
    const file = join(folder, "connection.json");
    const rest = { transport: "tcp", ip: "127.0.0.1", signature_scheme: "hmac-sha256", key };
    await writeFile(file, JSON.stringify({ ...ports, ...rest }));
    const [program = "", ...words] = argv.map((word) => (word === connectionFile ? file : word));
    const kernel = spawn(program, words, {
      cwd,
      env: { ...process.env, ...env },
      stdio: ["ignore", "inherit", "inherit"],
    });
    const client = new WireClient(kernel, folder);
    client.#connect(ports as Record<string, number>);
    // What is published before the kernel knows of the subscription is lost.
    do {
      await client.request("kernel_info_request", {});
    } while (!(await client.until(() => client.published.length > 0, 500).then(yes, no)));
    return client;
  }

  #connect(ports: Readonly<Record<string, number>>): void {
    const at = (name: string) => `tcp://127.0.0.1:${ports[name]}`;
    this.shell.connect(at("shell_port"));
    this.control.connect(at("control_port"));
    this.stdin.connect(at("stdin_port"));
    this.heartbeat.connect(at("hb_port"));
    this.#iopub.connect(at("iopub_port"));
    this.#iopub.subscribe();
    void this.#collect(this.shell, this.replies);
    void this.#collect(this.control, this.controlReplies);
    void this.#collect(this.stdin, this.questions);
    void this.#collect(this.#iopub, this.published);
  }

  async #collect(socket: Dealer | Subscriber, into: Message[]): Promise<void> {
    while (!socket.closed) {
      const frames = await socket.receive().catch(() => null);
      const received = frames && this.#codec.decode(frames);
      if (!received) continue;
      into.push(received.message);
      for (const look of this.#watchers) look();
    }
  }

  /** Waits for something to be so after a message came. */
  until(isSo: () => boolean, within_ms = 20_000): Promise<void> {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        this.#watchers.delete(look);
        const { exitCode, signalCode } = this.process;
        const end = exitCode ?? signalCode;
        reject(new Error(`not in time; the kernel ${end === null ? "runs" : `ended: ${end}`}`));
      }, within_ms);
      const look = () => {
        if (!isSo()) return;
        this.#watchers.delete(look);
        clearTimeout(timer);
        resolve();
      };
      this.#watchers.add(look);
      look();
    });
  }

  /** Sends a message; gives its header. */
  async send(
    channel: "shell" | "control" | "stdin",
    type: string,
    content: Content,
    more: Sending = {},
  ): Promise<Header> {
    const { subshell } = more;
    const own = { session: "front-end", ...(subshell && { subshell_id: subshell }) };
    const header = { ...newHeader(type), ...own };
    const text = JSON.stringify(content);
    const { parent = null, buffers = [] } = more;
    await this[channel].send(
      this.#codec.encode([], { type, parent, content: text, header, buffers }),
    );
    return header;
  }

  async request(type: string, content: Content): Promise<Message> {
    return await this.replyTo(await this.send("shell", type, content));
  }

  async replyTo({ msg_id }: Header, within_ms?: number): Promise<Message> {
    const isReply = (message: Message) => message.parent_header.msg_id === msg_id;
    await this.until(() => this.replies.some(isReply), within_ms);
    return this.replies.find(isReply) as Message;
  }

  async onControl(type: string, content: Content = {}): Promise<Message> {
    const { msg_id } = await this.send("control", type, content);
    const isReply = (message: Message) => message.parent_header.msg_id === msg_id;
    await this.until(() => this.controlReplies.some(isReply));
    return this.controlReplies.find(isReply) as Message;
  }

  start(code: string, more: Content = {}): Promise<Header> {
    return this.send("shell", "execute_request", executeContent(code, more));
  }

  /** Starts a cell in a subshell. */
  startIn(subshell: string, code: string, more: Content = {}): Promise<Header> {
    return this.send("shell", "execute_request", executeContent(code, more), { subshell });
  }

  async execute(code: string, more: Content = {}): Promise<Executed> {
    return await this.finished(await this.start(code, more));
  }

  /** Waits for a request's reply and the idle status after it. */
  async finished(header: Header, within_ms?: number): Promise<Executed> {
    const reply = await this.replyTo(header, within_ms);
    await this.until(() => this.of(header).some(isIdle));
    return { reply, outputs: this.outputsOf(header) };
  }

  of({ msg_id }: Header): Message[] {
    return this.published.filter((message) => message.parent_header.msg_id === msg_id);
  }

  outputsOf(header: Header): Message[] {
    const plumbing = ["status", "execute_input"];
    return this.of(header).filter(({ header: { msg_type } }) => !plumbing.includes(msg_type));
  }

  /** Time until the heartbeat's echo, ms. */
  async beat_ms(): Promise<number> {
    const before = performance.now();
    await this.heartbeat.send("ping");
    await this.heartbeat.receive();
    return performance.now() - before;
  }

  async stop(): Promise<void> {
    for (const socket of [this.shell, this.control, this.stdin, this.heartbeat, this.#iopub]) {
      socket.close();
    }
    this.process.kill("SIGKILL");
    await rm(this.#folder, { recursive: true, force: true });
  }
}

export function executeContent(code: string, more: Content = {}): Content {
  return {
    code,
    silent: false,
    store_history: true,
    user_expressions: {},
    allow_stdin: false,
    stop_on_error: true,
    ...more,
  };
}

export function isIdle({ header, content }: Message): boolean {
  return header.msg_type === "status" && content.execution_state === "idle";
}

export function textOf(outputs: readonly Message[]): string {
  return outputs
    .map(({ content }) => (typeof content.text === "string" ? content.text : ""))
    .join("");
}

/** The plain text of an `execute_result`. */
export function resultOf({ outputs }: Executed): unknown {
  const result = outputs.find(({ header }) => header.msg_type === "execute_result");
  return (result?.content.data as Content | undefined)?.["text/plain"];
}

async function freePorts(count: number): Promise<number[]> {
  const servers = Array.from({ length: count }, () => createServer().listen(0, "127.0.0.1"));
  const ports = await Promise.all(
    servers.map(
      (server) =>
        new Promise<number>((resolve) => {
          server.on("listening", () => resolve((server.address() as { port: number }).port));
        }),
    ),
  );
  await Promise.all(servers.map((server) => new Promise((resolve) => server.close(resolve))));
  return ports;
}
