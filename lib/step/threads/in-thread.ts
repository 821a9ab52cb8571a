import { AsyncLocalStorage } from "node:async_hooks";
import { isMainThread } from "node:worker_threads";
import { Pool } from "./pool.js";
import { threadCount } from "./thread-count.js";

/** A call that can be made in another thread. */
export interface ThreadCall<Value> {
  /** The module whose `answer` is called there; see `Answer`. */
  readonly module: URL;
  /** What many calls rest on; a thread is handed it once. Compared by identity. */
  readonly shared?: unknown;
  readonly task: unknown;
  /** The same in this thread. */
  readonly here: () => Promise<Value>;
  readonly progress?: ((done: number, total: number) => void) | null;
}

const pool = new Pool();

/**
 * Makes a call in one of the pool's threads, so that calls that are made together run side by side;
 * in this thread where there is one core, or `BANQUETTE_THREADS` is 1. The answer is the same.
 *
 * An interrupt of the cell (`Symbol.for("banquette.interruption")` of the global scope, an
 * AbortSignal) ends the threads; so does the end of the process. Threads that have nothing to do end
 * by themselves.
 */
export function inThread<Value>(call: ThreadCall<Value>): Promise<Value> {
  return hasThreads() ? (pool.call(call) as Promise<Value>) : inTurn(call.here);
}

/** Threads load JavaScript: sources that are run as they are stay in one thread. */
const isBuilt = import.meta.url.endsWith(".js");

/** False where every call is made in this thread; a thread of the pool asks no others. */
export function hasThreads(): boolean {
  return isBuilt && isMainThread && threadCount() > 1;
}

/** True where there are threads and none has anything to do, so that a call may share its work out. */
export const hasIdleThreads = (): boolean => hasThreads() && pool.isIdle;

let last: Promise<unknown> = Promise.resolve();
const within = new AsyncLocalStorage<true>();

/** One after the other, so that the memory of one is asked for at a time; calls of a call at once. */
function inTurn<Value>(here: () => Promise<Value>): Promise<Value> {
  if (within.getStore()) return here();
  const made = last.then(() => within.run(true, here));
  last = made.catch(() => undefined);
  return made;
}
