import { glanceAt } from "./glance.js";
import { interruptedError } from "./interrupted-error.js";
import type { Content, Message, Outgoing } from "./messages.js";
import type { Answer } from "./port-messages.js";

export interface BesideOptions {
  /** Asks the main thread, which answers only where it is the one to set `claim` to 1. */
  readonly askMain: (message: Message, claim: Int32Array | null) => Promise<Answer>;
  readonly publish: (message: Outgoing) => void;
  /** Whether the main thread does work of the kernel's own, such as starting. */
  readonly isOwnWork: () => boolean;
  /** Resolves when no interrupt is on its way, which would end what is asked for next. */
  readonly isQuiet: () => Promise<void>;
}

/** Time that the main thread has to take a request, ms; then it computes. */
const takenWithin_ms = 80;
const look_ms = 10;

/** The shell's execution while the main thread has not taken it. */
interface Untaken {
  readonly message: Message;
  readonly claim: Int32Array;
  readonly answer: (answer: Answer) => void;
}

/**
 * Answers what need not wait for the main thread. That takes a request of a subshell as soon as it
 * waits; while it computes, an expression that changes nothing is answered from the thread with the
 * sockets. So is an interrupt of a cell that a kernel which is still starting has not come to.
 */
export class Beside {
  readonly #options: BesideOptions;
  /** The main thread's count, as its cells have announced it. */
  #count = 0;
  #untaken: Untaken | null = null;

  constructor(options: BesideOptions) {
    this.#options = options;
  }

  /** What the main thread publishes tells its count. */
  published({ type, content }: Outgoing): void {
    if (type !== "execute_input") return;
    const { execution_count } = JSON.parse(content) as { readonly execution_count: number };
    this.#count = Math.max(this.#count, execution_count);
  }

  /** Asks for a request of the shell. */
  async askInTurn(message: Message): Promise<Answer> {
    if (message.header.msg_type !== "execute_request") {
      return await this.#options.askMain(message, null);
    }
    const claim = newClaim();
    const interrupted = new Promise<Answer>((answer) => {
      this.#untaken = { message, claim, answer };
    });
    const asked = this.#options.isQuiet().then(() => this.#options.askMain(message, claim));
    return await Promise.race([asked, interrupted]);
  }

  /** Ends the shell's execution where the main thread has not come to it from the kernel's own work. */
  interrupt(): void {
    const untaken = this.#untaken;
    if (untaken === null || !this.#options.isOwnWork()) return;
    if (Atomics.compareExchange(untaken.claim, 0, 0, 1) !== 0) return;
    untaken.answer(this.#interrupted(untaken.message));
  }

  /** Asks for a request of a subshell. */
  async ask(message: Message): Promise<Answer> {
    const claim = newClaim();
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
    return this.#answered(message, seen.data);
  }

  #answered(message: Message, data: Content | null): Answer {
    const execution_count = this.#counted(message);
    if (data !== null) {
      this.#publish(message, "execute_result", { data, metadata: {}, execution_count });
    }
    return replied({ status: "ok", execution_count }, false);
  }

  #interrupted(message: Message): Answer {
    const execution_count = this.#counted(message);
    this.#publish(message, "error", interruptedError);
    const isLast = message.content.stop_on_error === false;
    return replied({ status: "error", execution_count, ...interruptedError }, !isLast);
  }

  /** The execution's count, which it announces. */
  #counted(message: Message): number {
    const { code, silent, store_history } = message.content;
    if (silent !== true && store_history !== false) this.#count += 1;
    this.#publish(message, "execute_input", { code, execution_count: this.#count });
    return this.#count;
  }

  #publish({ header, content }: Message, type: string, of: object): void {
    if (content.silent === true) return;
    this.#options.publish({ type, parent: header, content: JSON.stringify(of) });
  }
}

const newClaim = () => new Int32Array(new SharedArrayBuffer(4));

function replied(content: Content, abortsFollowing: boolean): Answer {
  const whole = { ...content, user_expressions: {}, payload: [] };
  return { reply: { type: "execute_reply", content: JSON.stringify(whole) }, abortsFollowing };
}
