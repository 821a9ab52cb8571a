import type { Received } from "./frames.js";

/** A request that is answered, its reply not sent yet. */
export interface Answered {
  /** Whether the executions that wait behind it are to be aborted. */
  readonly abortsFollowing: boolean;
  readonly send: () => void;
}

/** Makes a request's answer. */
export type Handle = (received: Received, aborted: boolean) => Promise<Answered>;

interface Waiting {
  readonly received: Received;
  aborted: boolean;
}

/**
 * Requests of the shell channel, one after the other in the order of their coming. After a failed
 * execution the executions that wait are aborted: those that came before its reply was sent.
 */
export class ShellQueue {
  readonly #handle: Handle;
  readonly #waiting: Waiting[] = [];
  #running = false;

  constructor(handle: Handle) {
    this.#handle = handle;
  }

  add(received: Received): void {
    this.#waiting.push({ received, aborted: false });
    if (!this.#running) void this.#run();
  }

  async #run(): Promise<void> {
    this.#running = true;
    let next = this.#waiting.shift();
    while (next !== undefined) {
      const { abortsFollowing, send } = await this.#handle(next.received, next.aborted);
      if (abortsFollowing) {
        // Requests that have arrived at the socket are in the queue a turn later.
        await new Promise((resolve) => setImmediate(resolve));
        for (const one of this.#waiting) one.aborted = true;
      }
      send();
      next = this.#waiting.shift();
    }
    this.#running = false;
  }
}
