import type { Received } from "./frames.js";
import type { Answer } from "./port-messages.js";

interface Waiting {
  readonly received: Received;
  aborted: boolean;
}

/**
 * Requests of the shell channel, one after the other in the order of their coming. After a failed
 * execution the executions that wait are aborted.
 */
export class ShellQueue {
  readonly #handle: (received: Received, aborted: boolean) => Promise<Answer>;
  readonly #waiting: Waiting[] = [];
  #running = false;

  constructor(handle: (received: Received, aborted: boolean) => Promise<Answer>) {
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
      const { abortsFollowing } = await this.#handle(next.received, next.aborted);
      if (abortsFollowing) {
        // Requests that have arrived at the socket are in the queue a turn later.
        await new Promise((resolve) => setImmediate(resolve));
        for (const one of this.#waiting) one.aborted = true;
      }
      next = this.#waiting.shift();
    }
    this.#running = false;
  }
}
