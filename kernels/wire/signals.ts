import { constants } from "node:os";
import { nodeBinding } from "./node-bindings.js";

interface SignalWatcher {
  onsignal: () => void;
  start(signal: number): number;
  unref(): void;
}

interface SignalWrap {
  readonly Signal: new () => SignalWatcher;
}

interface AsyncWrap {
  clearAsyncIdStack(): void;
  readonly async_hook_fields: Float64Array | Uint32Array;
  readonly constants: { readonly kCheck: number; readonly kTotals: number };
}

let watcher: SignalWatcher | null = null;
let asyncWrap: AsyncWrap | null = null;

/**
 * Calls back on SIGINT, in a worker thread too, where `process.on` has no signals: a main thread
 * that computes would hear of the signal only afterwards. False where Node does not give the means.
 */
export function onInterruptSignal(interrupt: () => void): boolean {
  const wrap = nodeBinding("signal_wrap") as SignalWrap | null;
  if (wrap === null) return false;
  watcher = new wrap.Signal();
  watcher.onsignal = interrupt;
  watcher.unref();
  return watcher.start(constants.signals.SIGINT) === 0;
}

/**
 * Lets asynchronous work be ended in the middle. Node counts what begins and ends in it, and ends
 * the process where the two do not match, as after a termination. Called before every
 * termination and after it: what follows asynchronous work turns the count on again, as a hook of a cell's own does
 * and Node 20's and 22's own AsyncLocalStorage. False where Node does not give the means.
 */
export function allowTermination(): boolean {
  asyncWrap ??= nodeBinding("async_wrap") as AsyncWrap | null;
  if (asyncWrap === null) return false;
  const { async_hook_fields: fields, constants: at } = asyncWrap;
  fields[at.kCheck] = 0;
  fields[at.kTotals] = 0;
  asyncWrap.clearAsyncIdStack();
  return true;
}
