import type { Outgoing } from "./messages.js";

/** Messages on their way to the sockets' thread before the cell waits. */
const mostUnsent = 256;
/** Longest time that one message waits for those before it, ms, and one look at their count. */
const patience_ms = 2000;
const look_ms = 20;

/** Messages that go out at once, and those that follow in a second; front ends' servers drop more. */
const atOnce = 2000;
const inSecond = 900;
/** What a text counts beside an output of its own (texts are joined), and characters that count as one. */
const shareOfText = 0.02;
const characters = 20_000;

/** Counts the messages on their way from the cells' thread to that of the sockets. */
export function createUnsent(): Int32Array {
  return new Int32Array(new SharedArrayBuffer(4));
}

/** One has arrived. */
export function arrived(unsent: Int32Array): void {
  Atomics.sub(unsent, 0, 1);
  Atomics.notify(unsent, 0);
}

/**
 * Holds up the cells' thread where it shows more than can be sent and drawn: an interrupt must not
 * wait behind what nobody can read. A wait ends for an interrupt as everything else does.
 */
export class BackPressure {
  readonly #unsent: Int32Array;
  readonly #nothing = new Int32Array(new SharedArrayBuffer(4));
  #left = atOnce;
  #counted_ms = performance.now();

  constructor(unsent: Int32Array) {
    this.#unsent = unsent;
  }

  /** To be called after a message was sent on its way. */
  sent({ type, content }: Outgoing): void {
    Atomics.add(this.#unsent, 0, 1);
    this.#left -= (type === "stream" ? shareOfText : 1) + content.length / characters;
    this.#refill();
    while (this.#left < 0) {
      Atomics.wait(this.#nothing, 0, 0, look_ms);
      this.#refill();
    }
    this.#waitForOthers();
  }

  #refill(): void {
    const now_ms = performance.now();
    const more = ((now_ms - this.#counted_ms) * inSecond) / 1000;
    this.#counted_ms = now_ms;
    this.#left = Math.min(atOnce, this.#left + more);
  }

  #waitForOthers(): void {
    const end_ms = performance.now() + patience_ms;
    for (
      let now = Atomics.load(this.#unsent, 0);
      now > mostUnsent && performance.now() < end_ms;
      now = Atomics.load(this.#unsent, 0)
    ) {
      Atomics.wait(this.#unsent, 0, now, look_ms);
    }
  }
}
