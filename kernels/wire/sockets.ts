import { context, Router, XPublisher } from "zeromq";
import { address, type Connection, type Port } from "./connection.js";
import { FrameCodec, type Received } from "./frames.js";
import type { Outgoing } from "./messages.js";
import { Sender } from "./sender.js";

export type Channel = "shell" | "control" | "stdin";

/** Time that a closed socket has to send what is left, ms. */
const linger_ms = 60;
// The end of the process does not wait for peers that are gone.
context.blocky = false;

/** The kernel's five sockets, listening. */
export class Sockets {
  readonly #codec: FrameCodec;
  readonly #routers = {
    shell: new Router({ linger: linger_ms, sendHighWaterMark: 0, receiveHighWaterMark: 0 }),
    control: new Router({ linger: linger_ms, sendHighWaterMark: 0, receiveHighWaterMark: 0 }),
    stdin: new Router({ linger: linger_ms, sendHighWaterMark: 0, receiveHighWaterMark: 0 }),
  };
  readonly #heartbeat = new Router({ linger: 0 });
  // Every subscription is seen, not only a topic's first.
  readonly #iopub = new XPublisher({
    linger: linger_ms,
    sendHighWaterMark: 0,
    verbosity: "allSubs",
  });
  readonly #senders = {
    shell: new Sender(this.#routers.shell),
    control: new Sender(this.#routers.control),
    stdin: new Sender(this.#routers.stdin),
    iopub: new Sender(this.#iopub),
  };

  constructor(key: string) {
    this.#codec = new FrameCodec(key);
  }

  async bind(connection: Connection): Promise<void> {
    const { shell, control, stdin } = this.#routers;
    const all: [{ bind(to: string): Promise<void> }, Port][] = [
      [shell, "shell_port"],
      [control, "control_port"],
      [stdin, "stdin_port"],
      [this.#iopub, "iopub_port"],
      [this.#heartbeat, "hb_port"],
    ];
    for (const [socket, port] of all) await socket.bind(address(connection, port));
    void this.#beat();
    void this.#welcome();
  }

  /** Hands on every well-formed message of a channel until the sockets are closed. */
  async listen(channel: Channel, take: (received: Received) => void): Promise<void> {
    const socket = this.#routers[channel];
    while (!socket.closed) {
      const frames = await socket.receive().catch(() => null);
      const received = frames && this.#codec.decode(frames);
      if (received) take(received);
    }
  }

  send(channel: Channel, identities: readonly Buffer[], message: Outgoing): void {
    this.#senders[channel].send(this.#codec.encode(identities, message));
  }

  publish(message: Outgoing): void {
    this.#senders.iopub.send(this.#codec.encode([message.type], message));
  }

  async close(): Promise<void> {
    await Promise.all(Object.values(this.#senders).map((sender) => sender.flushed()));
    for (const socket of [...Object.values(this.#routers), this.#iopub, this.#heartbeat]) {
      socket.close();
    }
    await new Promise((resolve) => setTimeout(resolve, linger_ms));
  }

  // Whatever comes goes back to where it came from.
  async #beat(): Promise<void> {
    while (!this.#heartbeat.closed) {
      const frames = await this.#heartbeat.receive().catch(() => null);
      if (frames) await this.#heartbeat.send(frames).catch(() => undefined);
    }
  }

  // A subscriber's first sight of the channel. Source: Jupyter Enhancement Proposal 65.
  async #welcome(): Promise<void> {
    while (!this.#iopub.closed) {
      const [frame] = (await this.#iopub.receive().catch(() => null)) ?? [];
      if (frame === undefined || frame[0] !== 1) continue;
      const subscription = frame.subarray(1).toString();
      const content = JSON.stringify({ subscription });
      const message = { type: "iopub_welcome", parent: null, content };
      this.#senders.iopub.send(this.#codec.encode([subscription], message));
    }
  }
}
