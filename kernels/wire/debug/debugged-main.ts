import type { CellScript } from "../../session/session-options.js";
import type { DebugFromMain } from "./debug-messages.js";

/** The main thread's side of debugging: each cell waits there until its breakpoints are set. */
export class DebuggedMain {
  readonly #post: (message: DebugFromMain) => void;
  readonly #waiting = new Map<string, () => void>();
  #isOn = false;

  constructor(post: (message: DebugFromMain) => void) {
    this.#post = post;
  }

  turn(isOn: boolean, cells: readonly CellScript[]): void {
    this.#isOn = isOn;
    if (isOn) this.#post({ kind: "cells", cells });
    else for (const name of [...this.#waiting.keys()]) this.ready(name);
  }

  /** Null where nobody debugs. */
  before(cell: CellScript): Promise<void> | null {
    if (!this.#isOn) return null;
    return new Promise((resolve) => {
      this.#waiting.set(cell.name, resolve);
      this.#post({ kind: "cell", cell });
    });
  }

  ready(name: string): void {
    this.#waiting.get(name)?.();
    this.#waiting.delete(name);
  }
}
