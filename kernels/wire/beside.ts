import { glanceAt } from "./glance.js";
import type { Message, Outgoing } from "./messages.js";
import type { Answer } from "./port-messages.js";

export interface BesideOptions {
  /** Asks the main thread, which answers only where it is the one to set `claim` to 1. */
  readonly askMain: (message: Message, claim: Int32Array) => Promise<Answer>;
  readonly publish: (message: Outgoing) => void;
}

/** Time that the main thread has to take a request, ms; then it computes. */
const takenWithin_ms = 80;
const look_ms = 10;

/**
 * Answers requests that do not wait for the shell's cell. The main thread takes one as soon as it waits;
 * while it computes, an expression that changes nothing is answered from the thread with the sockets.
 */
export class Beside {
  readonly #options: BesideOptions;
  /** The main thread's count, as its cells have announced it. */
  #count = 0;

  constructor(options: BesideOptions) {
    this.#options = options;
  }

  /** What the main thread publishes tells its count. */
  published({ type, content }: Outgoing): void {
    if (type !== "execute_input") return;
    const { execution_count } = JSON.parse(content) as { readonly execution_count: number };
    this.#count = Math.max(this.#count, execution_count);
  }

  async ask(message: Message): Promise<Answer> {
    const claim = new Int32Array(new SharedArrayBuffer(4));
    const answer = this.#options.askMain(message, claim);
    if (message.header.msg_type !== "execute_request") return await answer;
    for (let waited_ms = 0; waited_ms < takenWithin_ms; waited_ms += look_ms) {
      await new Promise((resolve) => setTimeout(resolve, look_ms));
      if (Atomics.load(claim, 0) === 1) return await answer;
    }
    const { code, user_expressions } = message.content;
    const isAll = Object.keys(user_expressions ?? {}).length === 0;
    const seen = isAll ? await glanceAt(String(code)) : null;
    if (seen === null || Atomics.compareExchange(claim, 0, 0, 1) !== 0) return await answer;
    return this.#answered(message, seen.text);
  }

  #answered({ header, content }: Message, text: string | null): Answer {
    const { code, silent, store_history } = content;
    if (silent !== true && store_history !== false) this.#count += 1;
    const execution_count = this.#count;
    const publish = (type: string, of: object) =>
      this.#options.publish({ type, parent: header, content: JSON.stringify(of) });
    if (silent !== true) {
      publish("execute_input", { code, execution_count });
      const data = { "text/plain": text };
      if (text !== null) publish("execute_result", { data, metadata: {}, execution_count });
    }
    const done = { status: "ok", execution_count, user_expressions: {}, payload: [] };
    return {
      reply: { type: "execute_reply", content: JSON.stringify(done) },
      abortsFollowing: false,
    };
  }
}
