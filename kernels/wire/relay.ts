import { arrived } from "./back-pressure.js";
import { Beside } from "./beside.js";
import type { Connection } from "./connection.js";
import { Debugger } from "./debug/debugger.js";
import type { Received } from "./frames.js";
import { Interrupter } from "./interrupter.js";
import { type Content, type Header, type Message, newHeader, type Outgoing } from "./messages.js";
import type { Answer, FromMain, ToMain } from "./port-messages.js";
import { type Answered, ShellQueue } from "./shell-queue.js";
import { type Channel, Sockets } from "./sockets.js";
import { StreamBuffer } from "./stream-buffer.js";
import { Subshells, unknownSubshell } from "./subshells.js";

export interface RelayOptions {
  readonly connection: Connection;
  /** Content of `kernel_info_reply`. */
  readonly info: Content;
  readonly shielded: Int32Array;
  readonly unsent: Int32Array;
  readonly post: (message: ToMain) => void;
}

const commMessages: ReadonlySet<string> = new Set(["comm_open", "comm_msg", "comm_close"]);
const noReply: Answer = { reply: null, abortsFollowing: false };
/** Time that the main thread has to end the process, ms; then what it computes is ended. */
const firstWait_ms = 150;
/** Time that it has after that, ms; then the process is ended as it stands. */
const lastWait_ms = 3000;

/** Between the sockets and the main thread: keeps the order, and answers what needs no cells. */
export class Relay {
  readonly #options: RelayOptions;
  readonly #sockets: Sockets;
  readonly #stream: StreamBuffer;
  readonly #interrupter: Interrupter;
  readonly #shell: ShellQueue;
  readonly #subshells: Subshells;
  readonly #beside: Beside;
  readonly #debugger: Debugger;
  readonly #answers = new Map<number, (answer: Answer) => void>();
  readonly #commEnds = new Set<() => void>();
  #requests = 0;
  #current: Received | null = null;
  #asked: Header | null = null;
  #interrupting: Promise<void> = Promise.resolve();
  #ending = false;

  constructor(options: RelayOptions) {
    this.#options = options;
    this.#sockets = new Sockets(options.connection.key);
    this.#stream = new StreamBuffer((message) => this.#sockets.publish(message));
    this.#interrupter = new Interrupter(options.post, options.shielded);
    this.#debugger = new Debugger({
      post: options.post,
      event: (content) => this.#publish("debug_event", null, content),
    });
    this.#beside = new Beside({
      askMain: (message, claim) => this.#askMain(message, claim),
      publish: (message) => this.#stream.add(message),
      isOwnWork: () => Atomics.load(options.shielded, 0) === 1,
      isQuiet: () => this.#interrupting.catch(() => undefined),
    });
    this.#subshells = new Subshells((received, aborted) => this.#besideRequest(received, aborted));
    this.#shell = new ShellQueue((received, aborted) => this.#shellRequest(received, aborted));
  }

  async start(): Promise<void> {
    await this.#sockets.bind(this.#options.connection);
    this.#status("starting", null);
    void this.#sockets.listen("shell", (received) => {
      if (commMessages.has(received.message.header.msg_type)) void this.#commMessage(received);
      else this.#queue(received);
    });
    void this.#sockets.listen("control", (received) => void this.#controlRequest(received));
    void this.#sockets.listen("stdin", (received) => this.#input(received));
  }

  take(message: FromMain): void {
    if (message.kind === "publish") {
      arrived(this.#options.unsent);
      this.#beside.published(message.message);
      this.#stream.add(message.message);
    } else if (message.kind === "interrupted") this.#interrupter.answered(message.number);
    else if (message.kind === "cells" || message.kind === "cell") void this.#debugger.take(message);
    else if (message.kind === "ask") this.#ask(message.parent, message.content);
    else {
      this.#answers.get(message.number)?.(message);
      this.#answers.delete(message.number);
    }
  }

  async interrupt(): Promise<void> {
    this.#asked = null;
    this.#beside.interrupt();
    this.#interrupting = this.#debugger.release().then(() => this.#interrupter.interrupt());
    await this.#interrupting;
    for (const end of this.#commEnds) end();
    this.#commEnds.clear();
  }

  async shutDown(): Promise<void> {
    if (this.#ending) return;
    this.#ending = true;
    this.#debugger.close();
    this.#stream.flush();
    await this.#sockets.close();
    this.#options.post({ kind: "shutdown" });
    await new Promise((resolve) => setTimeout(resolve, firstWait_ms));
    void this.#interrupter.interrupt();
    await new Promise((resolve) => setTimeout(resolve, lastWait_ms));
    process.kill(process.pid, "SIGKILL");
  }

  async #shellRequest(received: Received, aborted: boolean): Promise<Answered> {
    this.#current = received;
    this.#status("busy", received.message.header);
    const answer = await this.#answer(received, aborted);
    return this.#answered(received, answer, () => {
      this.#current = null;
      this.#asked = null;
    });
  }

  #answered(received: Received, answer: Answer, end: () => void): Answered {
    const send = () => {
      this.#stream.flush();
      this.#reply("shell", received, answer);
      this.#status("idle", received.message.header);
      end();
    };
    return { abortsFollowing: answer.abortsFollowing, send };
  }

  #queue(received: Received): void {
    const { subshell_id: id, msg_type } = received.message.header;
    if (typeof id !== "string") this.#shell.add(received);
    else {
      const queue = this.#subshells.queue(id);
      const reply = msg_type.replace(/_request$/, "_reply");
      if (queue !== undefined) queue.add(received);
      else this.#reply("shell", received, replyOf(reply, unknownSubshell(id)));
    }
  }

  // A subshell's request does not wait for the shell's cell, whose status is told again afterwards.
  async #besideRequest(received: Received, aborted: boolean): Promise<Answered> {
    this.#status("busy", received.message.header);
    const answer = await this.#answer(received, aborted);
    return this.#answered(received, answer, () => {
      if (this.#current !== null) this.#status("busy", this.#current.message.header);
    });
  }

  // What comes over comms does not wait for the cell that runs, which may be waiting for it. Front ends
  // take the kernel to be idle then: the cell's own status is told again.
  async #commMessage({ message }: Received): Promise<void> {
    const { header } = message;
    this.#status("busy", header);
    // An interrupt may cut what it began in two; that never answers.
    const interrupted = new Promise<void>((resolve) => this.#commEnds.add(resolve));
    await Promise.race([this.#askMain(message), interrupted]);
    this.#stream.flush();
    this.#status("idle", header);
    if (this.#current !== null) this.#status("busy", this.#current.message.header);
  }

  async #answer({ message }: Received, aborted: boolean): Promise<Answer> {
    const { msg_type } = message.header;
    const own = this.#ownAnswer(msg_type);
    if (own !== null) return own;
    if (aborted && msg_type === "execute_request") {
      return replyOf("execute_reply", { status: "aborted" });
    }
    const isBeside = typeof message.header.subshell_id === "string";
    return await (isBeside ? this.#beside.ask(message) : this.#beside.askInTurn(message));
  }

  async #askMain(message: Message, claim: Int32Array | null = null): Promise<Answer> {
    this.#requests += 1;
    const number = this.#requests;
    const answer = new Promise<Answer>((resolve) => this.#answers.set(number, resolve));
    this.#options.post({ kind: "request", number, message, claim });
    return await answer;
  }

  // Control requests do not wait for the shell's, nor for each other.
  async #controlRequest(received: Received): Promise<void> {
    const { header, content } = received.message;
    this.#status("busy", header);
    if (header.msg_type === "interrupt_request") {
      void this.interrupt();
      this.#reply("control", received, replyOf("interrupt_reply", { status: "ok" }));
    } else if (header.msg_type === "shutdown_request") {
      const reply = { status: "ok", restart: content.restart === true };
      this.#reply("control", received, replyOf("shutdown_reply", reply));
      this.#publish("shutdown_reply", header, reply);
    } else if (header.msg_type === "debug_request") {
      const response = await this.#debugger.request(content);
      this.#reply("control", received, replyOf("debug_reply", response));
    } else {
      const answer = this.#ownAnswer(header.msg_type) ?? this.#subshellAnswer(received.message);
      this.#reply("control", received, answer);
    }
    this.#status("idle", header);
    if (header.msg_type === "shutdown_request") await this.shutDown();
  }

  #subshellAnswer({ header: { msg_type }, content }: Message): Answer {
    const answer = this.#subshells.answer(msg_type, content);
    return answer === null ? noReply : replyOf(msg_type.replace("request", "reply"), answer);
  }

  #ownAnswer(type: string): Answer | null {
    if (type === "kernel_info_request") return replyOf("kernel_info_reply", this.#options.info);
    if (type !== "connect_request") return null;
    const { shell_port, control_port, stdin_port, iopub_port, hb_port } = this.#options.connection;
    const ports = { shell_port, control_port, stdin_port, iopub_port, hb_port };
    return replyOf("connect_reply", { status: "ok", ...ports });
  }

  #reply(channel: Channel, { identities, message }: Received, { reply }: Answer): void {
    if (reply === null) return;
    this.#sockets.send(channel, identities, { ...reply, parent: message.header });
  }

  #ask(parent: Header, content: string): void {
    const asking = this.#current;
    if (asking?.message.header.msg_id !== parent.msg_id) return;
    this.#stream.flush();
    this.#asked = newHeader("input_request");
    const message: Outgoing = { type: "input_request", parent, content, header: this.#asked };
    this.#sockets.send("stdin", asking.identities, message);
  }

  // Some front ends answer without saying to what.
  #input({ message }: Received): void {
    const { header, parent_header, content } = message;
    if (this.#asked === null || header.msg_type !== "input_reply") return;
    const { msg_id } = parent_header;
    if (msg_id !== undefined && msg_id !== this.#asked.msg_id) return;
    this.#asked = null;
    this.#options.post({ kind: "input", value: String(content.value ?? "") });
  }

  #status(execution_state: string, parent: Header | null): void {
    this.#publish("status", parent, { execution_state });
  }

  #publish(type: string, parent: Header | null, content: Content): void {
    this.#stream.add({ type, parent, content: JSON.stringify(content) });
  }
}

function replyOf(type: string, content: Content): Answer {
  return { reply: { type, content: JSON.stringify(content) }, abortsFollowing: false };
}
