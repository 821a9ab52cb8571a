import { Worker } from "node:worker_threads";
import { StepError } from "../step-error.js";
import { threadCount } from "./thread-count.js";
import type { Asked, FromThread } from "./thread-messages.js";

interface PoolCall {
  readonly module: URL;
  readonly shared?: unknown;
  readonly task: unknown;
  readonly progress?: ((done: number, total: number) => void) | null;
}

interface Waiting extends PoolCall {
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: unknown) => void;
}

interface Thread {
  readonly worker: Worker;
  call: Waiting | null;
  /** What it was handed last. */
  held: unknown;
}

/** Time after which threads that have nothing to do end, ms. */
const IDLE_MS = 500;
/** Three times what new objects are collected in: collected more seldom, most of them are gone. */
const LIMITS = { maxYoungGenerationSizeMb: 96 };
const threadFile = new URL("./thread.js", import.meta.url);

/** Threads that make calls, the first asked first, at most `threadCount()` at a time. */
export class Pool {
  readonly #threads = new Set<Thread>();
  readonly #waiting: Waiting[] = [];
  #idle: NodeJS.Timeout | null = null;
  #signal: AbortSignal | null = null;

  /** True while no call is being made or waits. */
  get isIdle(): boolean {
    return this.#waiting.length === 0 && [...this.#threads].every(({ call }) => call === null);
  }

  call(call: PoolCall): Promise<unknown> {
    this.#heed(interruption());
    return new Promise((resolve, reject) => {
      this.#waiting.push({ ...call, resolve, reject });
      this.#share();
    });
  }

  /** Calls on their way fail with an interrupt, and no thread is left. */
  #end = () => {
    const calls = [...this.#waiting.splice(0)];
    for (const thread of this.#threads) {
      if (thread.call !== null) calls.push(thread.call);
      thread.call = null;
      this.#stop(thread);
    }
    for (const { reject } of calls) reject(new Error("the work was interrupted"));
  };

  #heed(signal: AbortSignal | null): void {
    if (signal === this.#signal) return;
    this.#signal?.removeEventListener("abort", this.#end);
    this.#signal = signal;
    signal?.addEventListener("abort", this.#end);
  }

  #share(): void {
    if (this.#idle !== null) clearTimeout(this.#idle);
    this.#idle = null;
    while (this.#waiting.length > 0) {
      const free = [...this.#threads].find(({ call }) => call === null);
      if (free === undefined && this.#threads.size >= threadCount()) return;
      const call = this.#waiting.shift();
      if (call !== undefined) this.#give(free ?? this.#start(), call);
    }
    if ([...this.#threads].some(({ call }) => call !== null)) return;
    this.#idle = setTimeout(() => this.#end(), IDLE_MS).unref();
  }

  #start(): Thread {
    const worker = new Worker(threadFile, { execArgv: [], resourceLimits: LIMITS });
    const thread: Thread = { worker, call: null, held: undefined };
    this.#threads.add(thread);
    worker.on("message", (message: FromThread) => this.#heard(thread, message));
    worker.on("error", (error) => this.#failed(thread, error));
    worker.on("exit", () => this.#failed(thread, new Error("a thread of the work ended early")));
    return thread;
  }

  #give(thread: Thread, call: Waiting): void {
    thread.call = call;
    thread.worker.ref();
    const { module, shared, task } = call;
    const asked: Asked = { module: module.href, task };
    const isHeld = thread.held === shared;
    thread.held = shared;
    try {
      thread.worker.postMessage(isHeld ? asked : { ...asked, shared: { value: shared } });
    } catch (error) {
      this.#done(thread)?.reject(error);
    }
  }

  #heard(thread: Thread, message: FromThread): void {
    if (message.kind === "progress") {
      thread.call?.progress?.(message.done, message.total);
      return;
    }
    const call = this.#done(thread);
    if (message.kind === "answer") call?.resolve(message.value);
    else if (message.kind === "fault") call?.reject(message.error);
    else call?.reject(new StepError(message.step, message.faults));
  }

  #done(thread: Thread): Waiting | null {
    const { call } = thread;
    thread.call = null;
    thread.worker.unref();
    this.#share();
    return call;
  }

  #failed(thread: Thread, error: unknown): void {
    if (!this.#threads.delete(thread)) return;
    thread.call?.reject(error);
    thread.call = null;
    this.#share();
  }

  #stop(thread: Thread): void {
    this.#threads.delete(thread);
    void thread.worker.terminate();
  }
}

/** Of the cell that runs, where a kernel tells it. */
function interruption(): AbortSignal | null {
  const signal: unknown = Reflect.get(globalThis, Symbol.for("banquette.interruption"));
  return signal instanceof AbortSignal ? signal : null;
}
