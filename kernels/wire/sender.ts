import type { Writable } from "zeromq";

type Frames = (Buffer | string)[];

/** Sends messages on one socket one after the other, as the socket demands. */
export class Sender {
  readonly #socket: Writable;
  readonly #waiting: Frames[] = [];
  #sending: Promise<void> | null = null;

  constructor(socket: Writable) {
    this.#socket = socket;
  }

  send(frames: Frames): void {
    this.#waiting.push(frames);
    this.#sending ??= this.#run();
  }

  /** Resolves when everything given so far has been handed to the socket. */
  async flushed(): Promise<void> {
    await this.#sending;
  }

  async #run(): Promise<void> {
    for (let at = 0; at < this.#waiting.length; at++) {
      try {
        await this.#socket.send(this.#waiting[at] as Frames);
      } catch {
        // A peer that went away, or a socket that is closed at the end, is no fault.
      }
    }
    this.#waiting.length = 0;
    this.#sending = null;
  }
}
