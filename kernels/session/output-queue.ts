import type { CellOutput } from "./outputs.js";

/** Outputs that are there, or that are being made. */
export type Pending = readonly CellOutput[] | Promise<readonly CellOutput[]>;

/**
 * Hands outputs on in the order in which the cell asked for them, although some (a figure being
 * drawn) take longer to make than others. An output with nothing before it goes out at once.
 */
export class OutputQueue {
  readonly #emit: (output: CellOutput) => void;
  #tail: Promise<void> | null = null;
  #fault: { readonly error: unknown } | null = null;

  constructor(emit: (output: CellOutput) => void) {
    this.#emit = emit;
  }

  add(pending: Pending): void {
    if (this.#tail === null && !(pending instanceof Promise)) {
      for (const output of pending) this.#emit(output);
      return;
    }
    const tail = this.#follow(this.#tail, pending).then(() => {
      if (this.#tail === tail) this.#tail = null;
    });
    this.#tail = tail;
  }

  /** Waits for everything that was asked for; throws the first error met while making one. */
  async settled(): Promise<void> {
    while (this.#tail !== null) await this.#tail;
    const fault = this.#fault;
    this.#fault = null;
    if (fault !== null) throw fault.error;
  }

  async #follow(before: Promise<void> | null, pending: Pending): Promise<void> {
    const made = Promise.resolve(pending).catch((error: unknown) => {
      this.#fault ??= { error };
      return [];
    });
    await before;
    for (const output of await made) this.#emit(output);
  }
}
