import type { SentOutput } from "./outputs.js";

/** Outputs that are there, or that are being made. */
export type Pending = readonly SentOutput[] | Promise<readonly SentOutput[]>;

/**
 * Hands outputs on in the order in which the cell asked for them, although some (a figure being
 * drawn) take longer to make than others. An output with nothing before it goes out at once.
 */
export class OutputQueue {
  readonly #emit: (output: SentOutput, origin: unknown) => void;
  readonly #origin: () => unknown;
  #tail: Promise<void> | null = null;
  #faults: { readonly error: unknown; readonly origin: unknown }[] = [];
  #round = 0;

  /** `origin` tells, when an output is asked for, where it comes from; `emit` is handed that. */
  constructor(
    emit: (output: SentOutput, origin: unknown) => void,
    origin: () => unknown = () => undefined,
  ) {
    this.#emit = emit;
    this.#origin = origin;
  }

  add(pending: Pending): void {
    if (this.#tail === null && !(pending instanceof Promise)) {
      const origin = this.#origin();
      for (const output of pending) this.#emit(output, origin);
      return;
    }
    const tail = this.#follow(this.#tail, pending).then(() => {
      if (this.#tail === tail) this.#tail = null;
    });
    this.#tail = tail;
  }

  /** Waits for everything that was asked for; throws the first error met while making one of this origin. */
  async settled(origin?: unknown): Promise<void> {
    while (this.#tail !== null) await this.#tail;
    const fault = this.#faults.find((one) => one.origin === origin);
    this.#faults = this.#faults.filter((one) => one.origin !== origin);
    if (fault !== undefined) throw fault.error;
  }

  /** A function that tells whether what is asked for now has been forgotten since. */
  wanted(): () => boolean {
    const round = this.#round;
    return () => round === this.#round;
  }

  /** Forgets what is still being made. */
  abandon(): void {
    this.#round += 1;
    this.#tail = null;
    this.#faults = [];
  }

  async #follow(before: Promise<void> | null, pending: Pending): Promise<void> {
    const round = this.#round;
    const origin = this.#origin();
    const made = Promise.resolve(pending).catch((error: unknown) => {
      if (round === this.#round) this.#faults.push({ error, origin });
      return [];
    });
    await before;
    const outputs = await made;
    if (round !== this.#round) return;
    for (const output of outputs) this.#emit(output, origin);
  }
}
