import { Session as Inspector } from "node:inspector";
import type { ToMain } from "./port-messages.js";
import { terminateExpression } from "./termination.js";

/** Time that the main thread has to answer an interrupt by itself, ms. */
const patience_ms = 60;
/** Time that V8 has to take a request, ms: it takes none within a call of the system. */
const answerWithin_ms = 500;
/** Terminations before giving up. */
const tries = 100;

/**
 * Interrupts the main thread from another one. A main thread that waits takes the message; one that
 * computes does not answer, and what it computes is ended (V8 `Runtime.terminateExecution`), except
 * while it does work of the kernel's own that must not be cut in two.
 */
export class Interrupter {
  readonly #post: (message: ToMain) => void;
  readonly #shielded: Int32Array;
  #asked = 0;
  #answered = 0;

  constructor(post: (message: ToMain) => void, shielded: Int32Array) {
    this.#post = post;
    this.#shielded = shielded;
  }

  /** The main thread took the interrupt with this number. */
  answered(number: number): void {
    this.#answered = Math.max(this.#answered, number);
  }

  /** Resolves when the main thread took the interrupt. */
  async interrupt(): Promise<void> {
    this.#asked += 1;
    const number = this.#asked;
    this.#post({ kind: "interrupt", number });
    for (let attempt = 0; attempt < tries; ) {
      for (let waited = 0; waited < patience_ms; waited += 10) {
        if (this.#answered >= number) return;
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
      if (this.#answered >= number) return;
      // The kernel's own work ends, however slow the machine: a kernel that starts for many seconds, too.
      if (Atomics.load(this.#shielded, 0) === 1) continue;
      attempt += 1;
      await terminate();
    }
  }
}

// Connected for the moment only: a debugger that stays connected delays the end of the process.
async function terminate(): Promise<void> {
  const inspector = new Inspector();
  inspector.connectToMainThread();
  try {
    await new Promise<void>((resolve) => {
      const parameters = { expression: terminateExpression, silent: true };
      inspector.post("Runtime.evaluate", parameters, () => resolve());
      setTimeout(resolve, answerWithin_ms);
    });
  } finally {
    inspector.disconnect();
  }
}
