import { randomUUID } from "node:crypto";
import type { Pending } from "../show/output-queue.js";
import { namedDisplay, updateOutput } from "../show/outputs.js";

/** Time between two words on how far it is, ms. */
const pause_ms = 500;

export interface ProvidedPackage {
  readonly name: string;
  readonly version: string;
  /** The version that was there before, where it was another one. */
  readonly replaced: string | null;
}

/** One output: how far it is, and in the end what is there, with a record in its metadata. */
export class ToldPackage {
  readonly #add: (outputs: Pending) => void;
  readonly #id = `banquette-package-${randomUUID().slice(0, 8)}`;
  readonly #what: string;
  readonly #began = performance.now();
  #answers = 0;
  #isShown = false;

  constructor(add: (outputs: Pending) => void, what: string) {
    this.#add = add;
    this.#what = what;
  }

  /** The registry has answered once more. */
  answered(): void {
    this.#answers += 1;
  }

  /** Tells how far it is until the work is done, or the signal is aborted. */
  async during<Value>(signal: AbortSignal | null, work: () => Promise<Value>): Promise<Value> {
    this.#tell();
    const timer = setInterval(() => this.#tell(), pause_ms);
    const interrupted = () => {
      clearInterval(timer);
      this.failed();
    };
    signal?.addEventListener("abort", interrupted);
    try {
      return await work();
    } finally {
      clearInterval(timer);
      signal?.removeEventListener("abort", interrupted);
    }
  }

  failed(): void {
    this.#show(`Package ${this.#what}: not installed`, { notice: "not-installed" });
  }

  done({ name, version, replaced }: ProvidedPackage): void {
    const place = "in package.json and package-lock.json beside the notebook";
    const restart =
      replaced === null
        ? ""
        : `. Cells that have imported ${replaced} keep it until the kernel is restarted`;
    this.#show(`Package ${name} ${version}, ${place}${restart}`, { packages: { [name]: version } });
  }

  #tell(): void {
    const seconds = Math.floor((performance.now() - this.#began) / 1000);
    const text = `Installing ${this.#what} … ${this.#answers} answers of the registry, ${seconds} s`;
    this.#show(text, { notice: "installing" });
  }

  #show(text: string, banquette: Readonly<Record<string, unknown>>): void {
    const make = this.#isShown ? updateOutput : namedDisplay;
    this.#isShown = true;
    this.#add([{ ...make({ "text/plain": text }, this.#id), metadata: { banquette } }]);
  }
}
